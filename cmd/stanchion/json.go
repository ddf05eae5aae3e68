package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf16"

	"stanchion/model"
	"stanchion/model/units"
	"stanchion/model/words"
)

// settingJSON is one setting as every command prints it. A figure that cannot
// be given is null.
type settingJSON struct {
	ID            string      `json:"id"`
	Bolts         []jointJSON `json:"bolts"`
	Height        *float64    `json:"height_mm"`
	X             *float64    `json:"x_mm"`
	Top           *float64    `json:"top_mm"`
	Angle         *float64    `json:"angle_deg"`
	Play          *float64    `json:"play_deg"`
	Attack        *float64    `json:"attack_deg"`
	CL            *float64    `json:"cl"`
	CD            *float64    `json:"cd"`
	Stalled       *bool       `json:"stalled"`
	StallMargin   *float64    `json:"stall_margin_deg"`
	Downforce     *float64    `json:"downforce_n"`
	DownforceBand *float64    `json:"downforce_band_n"`
	Drag          *float64    `json:"drag_n"`
	DragBand      *float64    `json:"drag_band_n"`
	OwnDrag       *float64    `json:"own_drag_n"`
	Lean          *float64    `json:"lean_n"`
	UprightsDrag  *float64    `json:"uprights_drag_n"` // not computed
	DeckLift      *float64    `json:"deck_lift_n"`     // not computed
	Front         *float64    `json:"front_change_n"`
	Rear          *float64    `json:"rear_change_n"`
	Share         *float64    `json:"front_share_pct"`
	Shift         *float64    `json:"balance_shift_pp"`
	ShiftBand     *float64    `json:"balance_shift_band_pp"`
	Within        bool        `json:"within_limits"`
	Outside       []string    `json:"outside"`
	Alternatives  []string    `json:"alternatives"`
}

type jointJSON struct {
	Joint string      `json:"joint"`
	Pairs [][2]string `json:"pairs"`
}

// figure rounds x to n digits behind the point; nil for NaN.
func figure(x float64, n int) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	p := math.Pow10(n)
	x = math.Round(x*p) / p
	if x == 0 {
		x = 0 // no negative zero
	}
	return &x
}

func setting(t *model.Table, r *model.Row) settingJSON {
	c, b := t.Car, t.Bands(r)
	s := settingJSON{
		ID:     r.ID,
		Height: figure(r.Height, 3), X: figure(r.X, 3), Top: figure(r.Top, 3),
		Angle: figure(r.Angle/model.Deg, 4), Play: figure(r.Play/model.Deg, 4),
		Attack: figure(r.Attack/model.Deg, 4), CL: figure(r.CL, 4), CD: figure(r.CD, 5),
		StallMargin: figure(r.StallMargin/model.Deg, 3),
		Downforce:   figure(r.Downforce, 2), DownforceBand: figure(b.Downforce, 2),
		Drag: figure(r.Drag, 2), DragBand: figure(b.Drag, 2), OwnDrag: figure(r.OwnDrag, 2), Lean: figure(r.Lean, 2),
		Front: figure(r.Change.Front, 2), Rear: figure(r.Change.Rear, 2),
		Share: figure(100*r.Share, 3), Shift: figure(100*r.Shift, 3), ShiftBand: figure(100*b.Shift, 3),
		Within: r.Within(), Outside: words.Outside(r, units.Metric), Alternatives: r.AlternativeIDs(),
	}
	if !math.IsNaN(r.StallMargin) {
		s.Stalled = &r.Stalled
	}
	for j, pairs := range c.Bolts(r.Setting) {
		s.Bolts = append(s.Bolts, jointJSON{c.Joints[j].Name, pairs})
	}
	return s
}

type assumedJSON struct {
	What  string `json:"what"`
	Value string `json:"value"`
	Note  string `json:"note"`
}

func assumed(c *model.Car) []assumedJSON {
	all := []assumedJSON{}
	for _, a := range c.Assumed {
		all = append(all, assumedJSON{a.What, a.Value, a.Note})
	}
	return all
}

func writeJSON(w io.Writer, v any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return err
	}
	var text strings.Builder
	for _, r := range b.String() { // what acts on a terminal stands in strings only, where it can be escaped
		switch {
		case r == '\n' || !units.Hidden(r):
			text.WriteRune(r)
		case r > 0xffff:
			high, low := utf16.EncodeRune(r)
			fmt.Fprintf(&text, "\\u%04x\\u%04x", high, low)
		default:
			fmt.Fprintf(&text, "\\u%04x", r)
		}
	}
	_, err := io.WriteString(w, text.String())
	return err
}
