package model

import "testing"

// By hand, for a maximum of 1.2 ± 0.1: likely from 0.96 to 1.3, possible below and up to 1.4, not
// credible above.
func TestClaimVerdict(t *testing.T) {
	for _, c := range []struct {
		needed  float64
		verdict ClaimVerdict
		key     string
	}{
		{0.3, ClaimBelow, "possible"}, {0.9599, ClaimBelow, "possible"}, {0.9601, ClaimLikely, "likely"}, {1.2, ClaimLikely, "likely"}, {1.2999, ClaimLikely, "likely"},
		{1.3001, ClaimAbove, "possible"}, {1.3999, ClaimAbove, "possible"}, {1.4001, ClaimNotCredible, "not_credible"},
	} {
		r := ClaimRow{Needed: c.needed, MaxCL: 1.2, StdUnc: 0.1}
		if v := r.Verdict(); v != c.verdict || v.Key() != c.key || r.Credible() != (c.key != "not_credible") {
			t.Errorf("CL %.4f of 1.2 ± 0.1: %v, %q, credible %v", c.needed, v, v.Key(), r.Credible())
		}
	}
}
