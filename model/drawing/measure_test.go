package drawing

import (
	"testing"

	"stanchion/holes/plane"
)

// Letters that the font lacks are found in texts and in blocks, each once; Latin, Greek and Cyrillic ones are in it.
func TestNotInFont(t *testing.T) {
	d := &Drawing{}
	d.text(plane.Point{}, 3, 0, Note, "Größe Ø8.4 μ Ж 孔孔")
	var b Block
	b.say(3, 100, "測 8.4 mm ± ✗")
	d.Blocks = append(d.Blocks, b)
	if got := d.NotInFont(); got != "孔測✗" {
		t.Errorf("%q", got)
	}
}
