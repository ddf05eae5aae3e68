package words

import (
	"strings"

	"stanchion/model"
)

// DesignGaps says what of the car a plate was kept clear of, and what is still to be looked at: what the car file does not have first.
func DesignGaps(c *model.Car) string {
	var missing []string
	if c.Body == nil {
		missing = append(missing, "body")
	}
	if c.Lid.Outline == nil {
		missing = append(missing, "lid")
	}
	text := ""
	switch len(missing) {
	case 0:
	case 1:
		text = "The car file has no [" + missing[0] + "]: if the car has one, whether plates or wing meet it is NOT CHECKED. "
	default:
		text = "The car file has neither [" + strings.Join(missing, "] nor [") + "]: whether plates or wing meet them is NOT CHECKED. "
	}
	if len(missing) < 2 || len(c.Panels) > 0 {
		text += "Gaps to body and lid are those in the side view: look at them with \"stanchion clear\" once --out has written a file. "
	}
	return text + "Where a plate meets the wing it must stand beside the mount, or be cut back. Make the plywood template first."
}
