package calibrate

import (
	"fmt"
	"math"

	"stanchion/model"
)

// share is a part of the play of a joint that readings with the same key have in common, as the
// standard uncertainty of an angle, rad; by is how much of it a reading has.
type share struct {
	key        string
	stdUnc, by float64
}

// playOf lists the play in a reading of a setting. As long as nobody turns a bolt the wing stays where
// it is within the play, so that all readings have one and the same error for each joint and way of
// bolting it, and each side: u = play/√3. Only a reading that says so was bolted anew; bolted is how
// often that was before it. The middle of the wing goes with the mean of its two sides, and by as
// much again of its own, since both may lie against their bolts the same way: its variance is
// 2·(u/2)² + u²/2 = u².
func playOf(row *model.Row, side string, bolted int) (all []share) {
	joint := func(key string, play float64) {
		if play <= 0 {
			return
		}
		u := play / math.Sqrt(3)
		key = fmt.Sprint(bolted, " ", key, " ")
		if side != "" {
			all = append(all, share{key + side, u, 1})
			return
		}
		all = append(all, share{key + "left", u, 0.5}, share{key + "right", u, 0.5}, share{key, u, math.Sqrt2 / 2})
	}
	for j, f := range row.Fits {
		joint(fmt.Sprint(j, f.Pairs), f.Play)
	}
	if len(row.Fits) == 0 { // a place without joints of its own
		joint(row.ID, row.Play)
	}
	return all
}

// PlayInTwist returns how much of TwistStdUnc, rad, is play in the holes, which the two sides may take up
// in their own way: with u = play/√3 of each joint and way of bolting it, which n of the N readings of a
// side have in common, the root of the sum of (u n/N)². Exact where the readings of a side weigh alike;
// NaN where a side was not read.
func PlayInTwist(t *model.Table, d Datum) float64 {
	counts, unc, n := map[string]float64{}, map[string]float64{}, map[string]float64{}
	bolted := 0
	for _, r := range d.Residuals {
		if r.Rebolted {
			bolted++
		}
		row, ok := t.Find(r.Setting)
		if !ok || r.Side == "" || r.Suspect {
			continue
		}
		n[r.Side]++
		for _, s := range playOf(row, r.Side, bolted) {
			counts[r.Side+" "+s.key]++
			unc[r.Side+" "+s.key] = s.stdUnc
		}
	}
	sum := 0.0
	for _, side := range []string{"left", "right"} {
		if n[side] == 0 {
			return math.NaN()
		}
		for key, u := range unc {
			if len(key) > len(side) && key[:len(side)] == side {
				sum += math.Pow(u*counts[key]/n[side], 2)
			}
		}
	}
	return math.Sqrt(sum)
}
