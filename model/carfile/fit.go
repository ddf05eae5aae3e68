package carfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"

	"stanchion/holes/plane"
	"stanchion/model"
)

// fitRules are what the values of [fit] may be, in the file's units.
var fitRules = map[model.Unknown]rule{
	model.LiftFactor: between(model.MinFit, model.MaxFit), model.MaxLiftFactor: between(model.MinFit, model.MaxFit),
	model.DragFactor: between(model.MinFit, model.MaxFit), model.WakeFactor: between(-20, 20),
	model.FlowAngleOff: between(-30, 30), model.SpeedRatioOff: between(-0.8, 0.8),
	model.FrontOwnArea: between(-5, 5), model.RearOwnArea: between(-5, 5),
	model.ZeroLiftOff: between(-20, 20), model.StallAngleOff: between(-20, 20), model.AngleReadingOff: between(-20, 20),
	model.SurfaceOff: between(-20, 20), model.GurneyOff: between(-20, 20), model.BodyPartOff: between(-20, 20),
	model.FrontAxleRate: positive, model.RearAxleRate: positive, model.OwnDragArea: positive, model.WheelPower: positive,
}

// fit takes what was fitted to the track: the scales of older files into the car, what readings tell
// together as an estimate for the car when all of it is read; nil where there is none.
func (r *reader) fit(root *table, c *model.Car) *fitTable {
	c.TrackFit = model.NoFit()
	t := root.child("fit", "fit")
	if t == nil {
		return nil
	}
	factor, band := between(model.MinFit, model.MaxFit), between(0, model.MaxFitStdUnc)
	c.TrackFit.Downforce = model.Scale{Factor: t.optional("downforce", plain, factor, math.NaN()),
		StdUnc: t.optional("downforce_band", plain, band, 0.1)}
	c.TrackFit.Drag = model.Scale{Factor: t.optional("drag", plain, factor, math.NaN()), StdUnc: t.optional("drag_band", plain, band, 0.2)}
	f := &fitTable{values: map[model.Unknown]float64{}}
	f.readings = int(t.optional("readings", plain, rule{func(x float64) bool { return x >= 0 && x == math.Trunc(x) && x < 1e6 }, "a whole number, 0 or more", from(0).whole()}, 0))
	f.inputs = t.text("fitted_to", false, "8 hexadecimal digits as \"stanchion note fit --write\" puts them, or remove it")
	faults := len(r.faults)
	f.of = fitNames(t)
	if len(r.faults) > faults { // what follows from the names would be faults of theirs
		t.known = append(t.known, "covariance")
		for u := model.Unknown(1); u < model.UnknownsEnd; u++ {
			t.known = append(t.known, u.Key())
		}
		t.close()
		return nil
	}
	for u := model.Unknown(1); u < model.UnknownsEnd; u++ {
		unit := plain
		unit.name, unit.size = u.FileUnit()
		switch at := slices.Index(f.of, u); {
		case at >= 0 && t.has(u.Key()):
			f.values[u] = t.optional(u.Key(), unit, fitRules[u], 0)
		case at >= 0:
			t.known = append(t.known, u.Key())
			t.missing(u.Key(), "covariance_of names it: give its value"+inUnit(unit))
		case t.has(u.Key()):
			t.known = append(t.known, u.Key())
			t.fault(u.Key(), "%s is not in covariance_of", "add it there with its row and column of covariance, or remove it", u.Key())
		default:
			t.known = append(t.known, u.Key())
			t.note(Key{Kind: Number, Unit: unit.name, bounds: fitRules[u].bounds}, u.Key())
		}
	}
	f.cov = fitCovariance(t, f.of)
	for _, old := range []string{"downforce", "downforce_band", "drag", "drag_band"} {
		if t.has(old) && t.has("covariance_of") {
			t.fault(old, "%s beside covariance_of", "they tell the same twice: keep one kind", old)
			break
		}
	}
	t.close()
	if f.of == nil || len(r.faults) > faults {
		return nil
	}
	f.table = t
	return f
}

// fitTable is what stands in [fit] of unknowns, in the program's units.
type fitTable struct {
	table    *table
	of       []model.Unknown
	values   map[model.Unknown]float64
	cov      *mat.SymDense
	readings int
	inputs   string // digest of what it was fitted to; "" where the file does not say
}

// fitNames takes the unknowns that the covariance is of; nil where none are given.
func fitNames(t *table) (of []model.Unknown) {
	list := t.list("covariance_of")
	t.noteItems("covariance_of", false, Text)
	for i, v := range list {
		name, _ := v.(string)
		u := model.UnknownOf(name)
		path := fmt.Sprintf("fit.covariance_of[%d]", i)
		switch {
		case u == model.NoUnknown:
			var known []string
			for k := model.Unknown(1); k < model.UnknownsEnd; k++ {
				known = append(known, k.Key())
			}
			do := "known here: " + strings.Join(known, ", ")
			if n := nearest(name, known); n != "" {
				do = fmt.Sprintf("did you mean %q?", n)
			}
			t.r.at(path, "fit: covariance_of holds %s", do, kind(v))
		case slices.Contains(of, u):
			t.r.at(path, "fit: covariance_of holds %q twice", "name each once", name)
		default:
			of = append(of, u)
		}
	}
	if t.has("covariance") && !t.has("covariance_of") {
		t.missing("covariance_of", "name the unknowns of the rows and columns of covariance")
	}
	return of
}

// asSymmetric is by how much of the standard uncertainties two halves of a covariance may differ.
const asSymmetric = 1e-6

// fitCovariance takes the rows of the covariance of the unknowns; nil where it has faults.
func fitCovariance(t *table, of []model.Unknown) *mat.SymDense {
	rows := t.list("covariance")
	t.noteItems("covariance", false, List, Number)
	n := len(of)
	if n == 0 {
		return nil
	}
	if !t.has("covariance") {
		t.missing("covariance", fmt.Sprintf("give %d rows of %d numbers", n, n))
		return nil
	}
	if len(rows) != n {
		t.fault("covariance", "covariance has %d rows", fmt.Sprintf("covariance_of names %d unknowns: give as many rows", n), len(rows))
		return nil
	}
	full := mat.NewDense(n, n, nil)
	for i, row := range rows {
		cells, ok := row.([]any)
		if !ok || len(cells) != n {
			t.r.at(fmt.Sprintf("fit.covariance[%d]", i), "fit: row %d of covariance, %s, has %d numbers", fmt.Sprintf("give %d, one for each of covariance_of", n), i+1, of[i].Key(), len(cells))
			return nil
		}
		_, size := of[i].FileUnit()
		for k, cell := range cells {
			_, other := of[k].FileUnit()
			x, ok := asFloat(cell)
			if !ok {
				t.r.at(fmt.Sprintf("fit.covariance[%d][%d]", i, k), "fit: covariance of %s and %s is %s", "it must be a finite number", of[i].Key(), of[k].Key(), kind(cell))
				return nil
			}
			full.Set(i, k, x*size*other)
		}
	}
	cov := mat.NewSymDense(n, nil)
	for i := range n {
		for k := i; k < n; k++ {
			a, b := full.At(i, k), full.At(k, i)
			if math.Abs(a-b) > asSymmetric*math.Sqrt(math.Abs(full.At(i, i)*full.At(k, k))) {
				t.r.at(fmt.Sprintf("fit.covariance[%d][%d]", k, i), "fit: covariance of %s and %s differs from that of %s and %s",
					"it must be symmetric: fit anew with \"stanchion note fit --write\", or correct it", of[k].Key(), of[i].Key(), of[i].Key(), of[k].Key())
				return nil
			}
			cov.SetSym(i, k, (a+b)/2)
		}
	}
	return cov
}

func asFloat(v any) (float64, bool) {
	switch x := v.(type) {
	case int64:
		return float64(x), true
	case float64:
		return x, !math.IsNaN(x) && !math.IsInf(x, 0)
	}
	return 0, false
}

// applyFit gives the car what [fit] holds of unknowns, when all else of it is read.
func (r *reader) applyFit(c *model.Car, f *fitTable) {
	if f == nil || f.cov == nil {
		return
	}
	var value []float64
	for _, u := range f.of {
		nominal := c.Nominal(u)
		if math.IsNaN(nominal) {
			f.table.fault(u.Key(), "%s in [fit], and none in [car]", "give it in [car], or fit anew with \"stanchion note fit --write\"", u.Key())
			return
		}
		value = append(value, f.values[u]-nominal)
	}
	e, err := model.NewEstimate(f.of, value, f.cov)
	if err != nil {
		f.table.fault("covariance", "%v", "fit anew with \"stanchion note fit --write\", or correct it", err)
		return
	}
	e.Readings = f.readings
	if !f.bounded(c) {
		return
	}
	fitted := c.Fitted(e)
	if p, _ := fitted.Flow.At(0); !math.IsNaN(p.Ratio) && p.Ratio < 0.1 {
		f.table.fault("speed_ratio", "with speed_ratio the flow at the wing has %.2f of the car's speed", "fit anew with \"stanchion note fit --write\"", p.Ratio)
		return
	}
	*c = *fitted
	r.checkFit(c, f)
}

// mostStdUnc is the largest standard uncertainty that an unknown of [fit] may have, in the program's units:
// several times what is known without a fit, as one widens it where readings and file disagree.
func mostStdUnc(c *model.Car, u model.Unknown) float64 {
	switch {
	case u.IsAngle():
		return 15 * plane.Deg
	case u == model.LiftFactor, u == model.MaxLiftFactor, u == model.DragFactor, u == model.SpeedRatioOff:
		return 0.5
	case u == model.FrontOwnArea, u == model.RearOwnArea:
		return 2
	case u == model.FrontAxleRate, u == model.RearAxleRate, u == model.OwnDragArea, u == model.WheelPower:
		return c.Nominal(u) / 2
	}
	return 3 // own ±, the body's part, the wake's factor
}

// bounded reports whether each unknown is known well enough for figures to mean anything, and faults the
// first that is not. The car is without the fit.
func (f *fitTable) bounded(c *model.Car) bool {
	for i, u := range f.of {
		name, size := u.FileUnit()
		if std, most := math.Sqrt(f.cov.At(i, i)), mostStdUnc(c, u); std > most {
			if name != "" && name != "°" {
				name = " " + name
			}
			f.table.r.at(fmt.Sprintf("fit.covariance[%d][%d]", i, i), "fit: %s is known to ±%s%s only, by the covariance",
				fmt.Sprintf("it must be ±%s%s or less: fit anew with \"stanchion note fit --write\", or remove [fit]", significant(most/size, 3), name), u.Key(), significant(std/size, 3), name)
			return false
		}
	}
	return true
}
