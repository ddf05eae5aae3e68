package design

import (
	"context"
	"errors"
	"testing"
	"time"

	"stanchion/holes/plane"
	"stanchion/model/modeltest"
)

// TestStopsSoon ends searches at moments all through them, of a bracket that is drilled and of one that is not, and hears of progress that never
// falls. On a busy machine a stop may take its time; it must not wait for the search.
func TestStopsSoon(t *testing.T) {
	for name, bare := range map[string]bool{"drilled": false, "bare": true} {
		c := modeltest.Car(t, "coupe")
		if bare {
			c.Parts = append(c.Parts[:0:0], c.Parts...)
			c.Parts[0].Holes = nil
		}
		w := Wish{Heights: []float64{1200, 1230, 1262, 1290, 1325}, HeightWithin: 10, High: 12 * plane.Deg, Step: plane.Deg, EndWithin: 0.5 * plane.Deg}
		for _, after := range []time.Duration{5, 40, 150} {
			ctx, stop := context.WithCancel(context.Background())
			last, fell := 0.0, false
			var stopped time.Time
			timer := time.AfterFunc(after*time.Millisecond, func() { stopped = time.Now(); stop() })
			_, err := Design(ctx, c, w, func(x float64) { fell, last = fell || x < last-1e-9, x })
			took := time.Since(stopped)
			timer.Stop()
			stop()
			if !errors.Is(err, context.Canceled) || took > 2*time.Second || fell {
				t.Errorf("%s bracket, stopped after %v ms: %v, after %v, progress %v fell %v", name, int(after), err, took, last, fell)
			}
			t.Logf("%s bracket, stopped after %v ms: took %v more", name, int(after), took)
		}
	}
}
