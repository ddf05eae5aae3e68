package carfile

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"stanchion/model"
	"stanchion/model/given"
	"stanchion/model/units"
)

// maxSteps is how many steps an adjustment may have.
const maxSteps = 200

// adjustments takes what else on the car can be set, for the notebook.
func (r *reader) adjustments(root *table, c *model.Car) {
	met := map[string]bool{}
	for i, t := range root.children("adjustment") {
		t.name = fmt.Sprintf("adjustment %d", i+1)
		a := model.Adjustment{Name: strings.Join(strings.Fields(t.text("name", true, "its name, such as \"front bar\"")), " ")}
		switch {
		case strings.ContainsAny(a.Name, "=,;"):
			t.fault("name", "name is %s", "leave out =, comma and semicolon", units.Printable(strconv.Quote(a.Name)))
		case met[strings.ToLower(a.Name)] && a.Name != "":
			t.fault("name", "name is there twice", "give each adjustment its own name")
		}
		met[strings.ToLower(a.Name)] = true
		steps := t.list("steps")
		t.noteItems("steps", false, Text, Number)
		for k, v := range steps {
			text := ""
			switch v := v.(type) {
			case string:
				text = strings.Join(strings.Fields(v), " ")
			case int64:
				text = strconv.FormatInt(v, 10)
			case float64:
				text = strconv.FormatFloat(v, 'f', -1, 64)
			}
			if text == "" || len(text) > maxText || strings.IndexFunc(text, units.Hidden) >= 0 || strings.ContainsAny(text, ",;") {
				t.fault("steps", "step %d cannot be used", "give short texts or numbers, such as [\"soft\", \"stiff\"]", k+1)
				break
			}
			a.Steps = append(a.Steps, text)
		}
		number := unit{"", 1}
		least, most := t.maybe("least", number, anything), t.maybe("most", number, anything)
		step := t.maybe("step", number, positive)
		name := t.text("unit", false, "the unit of its numbers")
		r.stepped(t, &a, steps != nil, least, most, step, name)
		t.close()
		c.Adjustments = append(c.Adjustments, a)
	}
}

// stepped makes the steps of an adjustment that has numbers from least to most.
func (r *reader) stepped(t *table, a *model.Adjustment, listed bool, least, most, step given.Number, unit string) {
	ranged := least.Known() || most.Known() || step.Known()
	switch {
	case r.keys != nil:
	case listed && ranged:
		t.fault("steps", "steps are there, and least, most or step too", "give either the steps or least, most and step")
	case len(a.Steps) > maxSteps:
		t.fault("steps", "steps are %d", fmt.Sprintf("give %d at most", maxSteps), len(a.Steps))
	case !ranged:
	case !least.Known() || !most.Known():
		t.missing("most", "give least and most, with step where it is not 1")
	default:
		by := step.Or(1)
		n := math.Floor((most.Value()-least.Value())/by + 1e-9)
		if !(n >= 1 && n < maxSteps) {
			t.fault("most", "from least to most are %s steps", fmt.Sprintf("it must be 1 to %d", maxSteps-1), units.Fixed(n, 0))
			return
		}
		for i := range int(n) + 1 {
			x := math.Round((least.Value()+float64(i)*by)*1e6) / 1e6
			a.Steps = append(a.Steps, strings.TrimSpace(strconv.FormatFloat(x, 'f', -1, 64)+" "+unit))
		}
	}
}
