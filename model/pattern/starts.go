package pattern

import (
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"

	"stanchion/holes/plane"
)

// scaled returns a start by classical scaling: the two largest directions of the doubly
// centred squares of the distances, those not measured taken along the shortest way. With
// holes that are held it is laid over them.
// Source: W. S. Torgerson, "Multidimensional scaling: I. Theory and method", Psychometrika 17
// (1952) 401.
func (n *net) scaled() []plane.Point {
	size := len(n.names)
	d := make([][]float64, size)
	for i := range d {
		d[i] = make([]float64, size)
		for j := range d[i] {
			if i != j {
				d[i][j] = math.Inf(1)
			}
		}
	}
	put := func(a, b int, x float64) { d[a][b], d[b][a] = min(d[a][b], x), min(d[b][a], x) }
	for i := range n.long {
		put(n.from[i], n.to[i], n.long[i])
	}
	held := n.knownPlaces()
	for a := range n.known {
		for b := range a {
			put(a, b, held[a].Distance(held[b]))
		}
	}
	for k := range size {
		for i := range size {
			for j := range size {
				d[i][j] = min(d[i][j], d[i][k]+d[k][j])
			}
		}
	}
	b, mean, all := mat.NewSymDense(size, nil), make([]float64, size), 0.0
	square := func(i, j int) float64 { x := min(d[i][j], 2*n.scale); return x * x }
	for i := range size {
		for j := range size {
			mean[i] += square(i, j) / float64(size)
		}
		all += mean[i] / float64(size)
	}
	for i := range size {
		for j := i; j < size; j++ {
			b.SetSym(i, j, -(square(i, j)-mean[i]-mean[j]+all)/2)
		}
	}
	at := make([]plane.Point, size)
	var eigen mat.EigenSym
	if size < 2 || !eigen.Factorize(b, true) {
		return n.built(rand.New(rand.NewPCG(2, 2)))
	}
	var v mat.Dense
	eigen.VectorsTo(&v)
	values := eigen.Values(nil)
	for i := range at {
		at[i] = plane.Point{X: v.At(i, size-1) * math.Sqrt(max(values[size-1], 0)), Z: v.At(i, size-2) * math.Sqrt(max(values[size-2], 0))}
	}
	if n.known == 0 {
		return at
	}
	plain, mirrored := n.over(at, held), n.over(mirror(at), held)
	if n.cost(mirrored) < n.cost(plain) {
		return mirrored
	}
	return plain
}

// mirror mirrors places about the x axis.
func mirror(at []plane.Point) []plane.Point {
	all := slices.Clone(at)
	for i := range all {
		all[i].Z = -all[i].Z
	}
	return all
}

// over lays places over the held ones as well as it goes, and holds those.
func (n *net) over(at, held []plane.Point) []plane.Point {
	a, b := plane.Centroid(at[:n.known]), plane.Centroid(held[:n.known])
	dot, cross := 0.0, 0.0
	for i := range n.known {
		p, q := at[i].Sub(a), held[i].Sub(b)
		dot += p.X*q.X + p.Z*q.Z
		cross += p.X*q.Z - p.Z*q.X
	}
	sin, cos := math.Sincos(math.Atan2(cross, dot))
	all := slices.Clone(held)
	for i := n.known; i < len(at); i++ {
		p := at[i].Sub(a)
		all[i] = b.Add(plane.Point{X: p.X*cos - p.Z*sin, Z: p.X*sin + p.Z*cos})
	}
	return all
}

// built returns a start in which each hole is put down where the circles about two that are
// down already meet, on a side by chance.
func (n *net) built(chance *rand.Rand) []plane.Point {
	at, down := n.knownPlaces(), make([]bool, len(n.names))
	for i := range n.known {
		down[i] = true
	}
	if n.known == 0 {
		i := chance.IntN(len(n.long))
		down[n.from[i]], down[n.to[i]] = true, true
		at[n.to[i]] = plane.Point{X: n.long[i]}
	}
	for range n.names {
		next, most := -1, -1
		for i := range n.names {
			if c := len(n.links(i, down)); !down[i] && c > most {
				next, most = i, c
			}
		}
		if next < 0 {
			break
		}
		links := n.links(next, down)
		chance.Shuffle(len(links), func(i, j int) { links[i], links[j] = links[j], links[i] })
		var around plane.Point
		switch len(links) {
		case 0:
			at[next] = plane.Point{X: n.scale * chance.Float64(), Z: n.scale * (chance.Float64() - 0.5)}
		case 1:
			around = at[links[0].to]
			sin, cos := math.Sincos(2 * math.Pi * chance.Float64())
			at[next] = around.Add(plane.Point{X: cos, Z: sin}.Times(links[0].long))
		default:
			at[next] = circles(at[links[0].to], links[0].long, at[links[1].to], links[1].long, chance.IntN(2) == 0)
		}
		down[next] = true
	}
	return at
}

// link is a distance to a hole.
type link struct {
	to   int
	long float64
}

// links lists the distances of a hole to those that are down.
func (n *net) links(i int, down []bool) (all []link) {
	for k := range n.long {
		if n.from[k] == i && down[n.to[k]] {
			all = append(all, link{n.to[k], n.long[k]})
		}
		if n.to[k] == i && down[n.from[k]] {
			all = append(all, link{n.from[k], n.long[k]})
		}
	}
	return all
}

// circles returns where two circles meet, on the left of the way from a to b or on its right;
// the place nearest to both where they do not.
func circles(a plane.Point, ra float64, b plane.Point, rb float64, left bool) plane.Point {
	d := b.Sub(a)
	l := math.Hypot(d.X, d.Z)
	if l < 1e-9 {
		return a.Add(plane.Point{X: ra})
	}
	along := (ra*ra - rb*rb + l*l) / (2 * l)
	across := math.Sqrt(max(ra*ra-along*along, 0))
	if !left {
		across = -across
	}
	u := d.Times(1 / l)
	return a.Add(u.Times(along)).Add(plane.Point{X: -u.Z, Z: u.X}.Times(across))
}
