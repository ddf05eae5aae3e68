package tui

import (
	"strings"
	"testing"
)

// While a hole is placed the side view stays the one that was chosen, and z changes it.
func TestDrillKeepsThePicture(t *testing.T) {
	whole := keys(t, opened(t, "coupe", 80, 24), "z", "d")
	if v := whole.View(); !strings.Contains(v, "whole rear · hole N1") || !strings.Contains(v, signTrial) {
		t.Errorf("the whole rear was chosen:\n%s", v)
	}
	if v := keys(t, whole, "z").View(); !strings.Contains(v, "uprights · hole N1") || !strings.Contains(v, signTrial) {
		t.Errorf("z changes the picture:\n%s", v)
	}
	if v := keys(t, whole, "z", "z").View(); !strings.Contains(v, "head · hole N1") {
		t.Errorf("and comes round:\n%s", v)
	}
}
