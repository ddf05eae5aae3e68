package carfile

import (
	"slices"
	"strings"
	"testing"
)

func TestAdjustments(t *testing.T) {
	for _, c := range []struct {
		text  string
		steps []string
		fault string // "" for none
	}{
		{`steps = ["soft", 2, 2.5, "stiff"]`, []string{"soft", "2", "2.5", "stiff"}, ""},
		{"least = 0\nmost = 25\nstep = 10\nunit = \"mm\"", []string{"0 mm", "10 mm", "20 mm"}, ""}, // by hand: 30 would be beyond
		{"least = -1\nmost = 1", []string{"-1", "0", "1"}, ""},
		{"least = 0\nmost = 0.3\nstep = 0.1", []string{"0", "0.1", "0.2", "0.3"}, ""},
		{"", nil, ""},
		{"least = 0", nil, "most"},
		{"least = 2\nmost = 1", nil, "from least to most"},
		{"least = 0\nmost = 1e9", nil, "from least to most"},
		{"least = 0\nmost = 1\nstep = 0", nil, "step is 0"},
		{"steps = [\"a\"]\nleast = 0\nmost = 1", []string{"a"}, "either the steps"},
		{"steps = [\"a, b\"]", nil, "step 1 cannot be used"},
		{"steps = [true]", nil, "step 1 cannot be used"},
	} {
		read, err := patched(t, "[limits]", "[[adjustment]]\nname = \"front  bar\"\n"+c.text+"\n[limits]")
		if (err != nil) != (c.fault != "") || err != nil && !strings.Contains(err.Error(), c.fault) {
			t.Errorf("%s: %v", c.text, err)
		}
		if c.fault != "" {
			continue
		}
		if a := read.Adjustments; len(a) != 1 || a[0].Name != "front bar" || !slices.Equal(a[0].Steps, c.steps) {
			t.Errorf("%s: %q", c.text, a)
		}
	}
	twice := "[[adjustment]]\nname = \"bar\"\n[[adjustment]]\nname = \"Bar\"\n[[adjustment]]\nname = \"a=b\"\n[limits]"
	if _, err := patched(t, "[limits]", twice); err == nil || !strings.Contains(err.Error(), "there twice") || !strings.Contains(err.Error(), "leave out =") {
		t.Errorf("twice: %v", err)
	}
}
