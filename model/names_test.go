package model_test

import (
	"strings"
	"testing"

	"stanchion/holes"
	"stanchion/model"
	"stanchion/model/carfile"
	"stanchion/model/drill"
	"stanchion/model/modeltest"
)

// On the coupé k1 goes into 1, 2, 3 or 4 and R into another hole for each way of bolting the wing: two holes
// tell a setting. On the hatch the foot is told by its first and last hole, as no upper hole is in all its
// ways.
func TestNamesByHand(t *testing.T) {
	coupe := modeltest.Table(t, "coupe")
	hatch := modeltest.TableOf(t, modeltest.File(t, "hatch.toml"))
	for _, c := range []struct {
		table    *model.Table
		id, name string
		typed    []string
	}{
		{coupe, "4:k1+10:k2+6:k3+12:k4/B:F+B2:R", "row 4, B2", []string{"row 4, B2", "4 b2", "ROW 4 B2", "4,B2"}},
		{coupe, "1:k1+7:k2+3:k3+9:k4/A:F+A1:R", "row 1, A1", []string{"1 A1"}},
		{hatch, "1:k1+2:k2+5:k3+6:k4/A:F+A4:R", "row 1–6, A4", []string{"1-6 a4", "row 1–6, A4"}},
		{hatch, "5:k1+6:k2/B:F+B5:R", "row 5–6, B5", []string{"5-6, B5"}},
	} {
		r, ok := c.table.Find(c.id)
		if !ok {
			t.Fatalf("no %s", c.id)
		}
		if got := c.table.Name(r.Setting); got != c.name {
			t.Errorf("%s is called %q, want %q", c.id, got, c.name)
		}
		for _, typed := range c.typed {
			found := c.table.Named(strings.Fields(typed))
			if len(found) != 1 || found[0].ID != c.id {
				t.Errorf("%q finds %d settings", typed, len(found))
			}
		}
	}
	saloon := modeltest.Table(t, "saloon")
	t.Log(saloon.Name(saloon.Rows[0].Setting))
}

// All settings of a car have names that differ, and each finds its own, with a further hole too.
func TestNamesTellApart(t *testing.T) {
	for _, demo := range carfile.Demos() {
		car := modeltest.Car(t, demo)
		part := len(car.Parts) - 2
		h := car.Parts[part].Holes[len(car.Parts[part].Holes)-1]
		more := drill.With(car, drill.NewHole{Part: part, Hole: holes.Hole{ID: "N1", X: h.X + 3, Z: h.Z + 30, D: h.D, Joint: h.Joint}})
		for _, c := range []*model.Car{car, more} {
			table, err := c.Map(c.Speed)
			if err != nil {
				t.Fatal(err)
			}
			met := map[string]string{}
			for i := range table.Rows {
				for _, w := range table.Rows[i].Ways() {
					name := table.Name(&w)
					if met[name] != "" {
						t.Errorf("%s and %s are both %q", met[name], w.ID, name)
					}
					met[name] = w.ID
					if found := table.Named([]string{name}); len(found) != 1 || found[0].ID != w.ID {
						t.Errorf("%q finds %d settings", name, len(found))
					}
				}
			}
		}
	}
}

// A name of before still finds its setting when a further hole has made names longer.
func TestNameOfBefore(t *testing.T) {
	car := modeltest.Car(t, "coupe")
	more := drill.With(car, drill.NewHole{Part: 1, Hole: holes.Hole{ID: "N1", X: -4.5, Z: 443, D: 8.4, Joint: "head"}})
	table, err := more.Map(more.Speed)
	if err != nil {
		t.Fatal(err)
	}
	r, ok := table.Find("4:k1+10:k2+6:k3+12:k4/B:F+B2:R")
	if !ok || table.Name(r.Setting) != "row 4, B–B2" {
		t.Fatalf("it is called %q", table.Name(r.Setting))
	}
	for _, typed := range []string{"4 B2", "row 4, B2", "4 b b2"} {
		if found := table.Named(strings.Fields(typed)); len(found) != 1 || found[0].ID != r.ID {
			t.Errorf("%q finds %d", typed, len(found))
		}
	}
	if found := table.Named([]string{"4", "A3"}); len(found) != 2 { // with A and with N1
		t.Errorf("4 A3 finds %d", len(found))
	}
}
