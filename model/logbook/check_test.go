package logbook

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"stanchion/model/units"
)

// A look over the car comes back from the disk as it was, and is neither a run nor a setting that was bolted on.
func TestInspectionOnDisk(t *testing.T) {
	path := filepath.Join(t.TempDir(), "car.notes.toml")
	at := time.Date(2026, 5, 12, 10, 0, 0, 0, time.UTC)
	run := Blank()
	run.At, run.Setting = at, "a"
	look := Blank()
	look.At = at.Add(time.Hour)
	look.Inspected = Inspection{Looked: []string{"torque foot", `a "quoted", [[note]]` + "\n# end x"}, Failed: []string{"torque foot"},
		Found: "two turned\nby a flat", By: "A. Smith (invented)", Setting: "b", Struck: StruckKerb}
	for _, n := range []Note{run, look, run} {
		if _, _, err := Append(path, n); err != nil {
			t.Fatal(err)
		}
	}
	b, err := Read(path)
	if err != nil || len(b.Told) > 0 {
		t.Fatalf("%v, %q", err, b.Told)
	}
	if len(b.Notes) != 2 || len(b.Checks) != 1 || len(b.All) != 3 || b.OnCar() != "a" {
		t.Errorf("%d runs, %d checks of %d, %q on the car", len(b.Notes), len(b.Checks), len(b.All), b.OnCar())
	}
	got := b.Checks[0]
	if k := got.Inspected; !slices.Equal(k.Looked, look.Inspected.Looked) || !slices.Equal(k.Failed, look.Inspected.Failed) || k.Found != look.Inspected.Found ||
		k.By != look.Inspected.By || k.Setting != "b" || k.Struck != StruckKerb || !got.Inspecting() {
		t.Errorf("%+v", k)
	}
	if k := got.Inspected; k.Passed("torque foot") || !k.FailedAt("torque foot") || !k.Passed(look.Inspected.Looked[1]) || k.Passed("play") {
		t.Errorf("%+v passes what it must not", k)
	}
	var order []string
	for _, n := range b.InForce() {
		order = append(order, n.ID)
	}
	if !slices.Equal(order, []string{"2026-05-12.1", "2026-05-12.3", "2026-05-12.2"}) { // by time
		t.Errorf("in force %q", order)
	}
	var facts []string
	for _, f := range got.Facts(units.Metric) {
		facts = append(facts, f.What+": "+f.Text)
	}
	text := strings.Join(facts, "\n") + "\n" + got.Brief(units.Metric)
	for _, want := range []string{"struck: a kerb", "FAILED: torque foot", "found: two turned / by a flat", "checked by: A. Smith", "setting then: b", "FAILED: torque foot  checked"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

// What a hand made of the lines is taken on the unsafe side: nothing passes that may have failed, and a strike is a strike.
func TestInspectionByHand(t *testing.T) {
	for _, c := range []struct {
		lines  string
		passes bool // torque foot
		fails  bool
		struck string
		odd    string
	}{
		{`checked = ["torque foot"]`, true, false, "", ""},
		{`checked = "torque foot"`, false, false, "", "checked"},
		{"checked = [\"torque foot\"]\nfailed = \"torque foot\"", false, false, "", "failed"},
		{"checked = [\"torque foot\"]\nfailed = [1, \"torque foot\"]", false, true, "", "failed"},
		{"checked = [\"torque foot\", 3]", true, false, "", "checked"},
		{`failed = ["torque foot"]`, false, true, "", ""},
		{`struck = "wall"`, false, false, StruckContact, "struck"},
		{`struck = "spin"`, false, false, StruckSpin, ""},
	} {
		n, odd, wrong := decode([]byte("[[note]]\nid = \"1\"\nat = 2026-05-12T10:00:00Z\n" + c.lines + "\n"))
		k := n.Inspected
		if wrong != "" || k.Passed("torque foot") != c.passes || k.FailedAt("torque foot") != c.fails || k.Struck != c.struck || strings.Join(odd, " ") != c.odd {
			t.Errorf("%s: passes %v, fails %v, struck %q, odd %q, %s", c.lines, k.Passed("torque foot"), k.FailedAt("torque foot"), k.Struck, odd, wrong)
		}
	}
}

// A run on which the car was struck stays a run.
func TestStruckRunIsARun(t *testing.T) {
	n := Blank()
	n.Setting, n.Inspected.Struck = "a", StruckContact
	if n.Inspecting() {
		t.Error("it is no run any more")
	}
}
