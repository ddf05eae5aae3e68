package plane

import (
	"testing"

	"pgregory.net/rapid"
)

func TestPoseLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(n string) Pose {
			return Pose{rapid.Float64Range(-900, 900).Draw(t, n), rapid.Float64Range(-900, 900).Draw(t, n), rapid.Float64Range(-3, 3).Draw(t, n)}
		}
		p, q := draw("p"), draw("q")
		u := Point{rapid.Float64Range(-500, 500).Draw(t, "ux"), rapid.Float64Range(-500, 500).Draw(t, "uz")}
		if d := p.Then(q).Apply(u).Distance(p.Apply(q.Apply(u))); d > 1e-9 {
			t.Fatalf("Then differs from applying both by %g mm", d)
		}
		if d := p.Inverse().Apply(p.Apply(u)).Distance(u); d > 1e-9 {
			t.Fatalf("Inverse leaves %g mm", d)
		}
		if d := About(u, q.Turn).Apply(u).Distance(u); d > 1e-9 {
			t.Fatalf("About moves its own centre by %g mm", d)
		}
	})
}
