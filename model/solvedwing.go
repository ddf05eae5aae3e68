package model

import (
	"crypto/sha256"
	"fmt"
	"sync"

	"stanchion/aero"
)

// wings are solved wings: a trial hole, a reading or a note makes a new car with the wing of the old one.
var wings = struct {
	mu    sync.Mutex
	of    map[[sha256.Size]byte]func() (aero.Solution, error)
	order [][sha256.Size]byte // oldest first
}{of: map[[sha256.Size]byte]func() (aero.Solution, error){}}

// wingsKept is how many stay: a sweep over speeds solves some dozens.
const wingsKept = 256

// solved is a wing's Solve, worked out once for wings that are alike in everything.
func solved(w aero.Wing) (aero.Solution, error) {
	key := sha256.Sum256([]byte(fmt.Sprint(w)))
	wings.mu.Lock()
	solve, ok := wings.of[key]
	if !ok {
		solve = sync.OnceValues(w.Solve)
		if len(wings.order) >= wingsKept {
			delete(wings.of, wings.order[0])
			wings.order = wings.order[1:]
		}
		wings.of[key], wings.order = solve, append(wings.order, key)
	}
	wings.mu.Unlock()
	return solve()
}
