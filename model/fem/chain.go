package fem

import "stanchion/holes/plane"

// Link is one plate of a chain, from the car up: its field in its own frame, the pose of that
// frame on the car, and its head.
type Link struct {
	Field Field
	Head  plane.Point // on the car, mm
	Turn  float64     // rad, of its frame on the car
}

// Rider is a mass that rides on the last plate's head: a wing.
type Rider struct {
	Mass  float64     // t
	At    plane.Point // on the car, mm
	About [Rigid]float64
	// t·mm² of its turning about its own middle, in the order of the rigid motions: across the
	// plane about x and z at 1 and 2, in the plane at 2.
}

// Swing returns the natural frequencies of a chain of plates with what rides on it, Hz, lowest
// first: across the plane or in it. Of a plate whose own mass is small beside the rider's the
// first is true to 0.5 %, from above.
func Swing(links []Link, w Rider, across bool) []float64 {
	var stiff, mass [][]float64
	for range Rigid {
		stiff, mass = append(stiff, make([]float64, Rigid)), append(mass, make([]float64, Rigid))
	}
	var rigid [Rigid][Rigid]float64 // motion, about the car's origin, of the frame of each plate, by unit load at the rider
	for _, l := range links {
		// Motions about the car's origin and car axes, in terms of motions about the head in the
		// plate's: a rotation and a shift; loads go the other way.
		shift := carry(l.Head, l.Turn, across)
		var shapes [Rigid][2 * Rigid]float64 // by unit load: responses, then rigid motion about the head
		var next [Rigid][Rigid]float64
		for load := range Rigid {
			at := unitLoad(load, w.At, across)
			var head [Rigid]float64 // loads about the head in the plate's frame: transposed
			for i := range Rigid {
				for j := range Rigid {
					head[i] += shift[j][i] * at[j]
				}
			}
			base := solve3(shift, rigid[load])
			for i := range Rigid {
				shapes[load][i], shapes[load][Rigid+i] = head[i], base[i]
			}
			var moved [Rigid]float64
			for i := range Rigid {
				for j := range Rigid {
					moved[i] += l.Field.Give[i][j] * head[j]
				}
			}
			next[load] = rigid[load]
			for i := range Rigid {
				for j := range Rigid {
					next[load][i] += shift[i][j] * moved[j]
				}
			}
		}
		for a := range Rigid {
			for b := range Rigid {
				for i := range 2 * Rigid {
					for j := range 2 * Rigid {
						mass[a][b] += shapes[a][i] * l.Field.Mass[i][j] * shapes[b][j]
					}
				}
				for i := range Rigid {
					for j := range Rigid {
						stiff[a][b] += shapes[a][i] * l.Field.Give[i][j] * shapes[b][j]
					}
				}
			}
		}
		rigid = next
	}
	at := carry(w.At, 0, across)
	for a := range Rigid {
		for b := range Rigid {
			ma, mb := solve3(at, rigid[a]), solve3(at, rigid[b])
			mass[a][b] += w.Mass * ma[0] * mb[0]
			if !across {
				mass[a][b] += w.Mass * ma[1] * mb[1]
			}
			for i, about := range w.About {
				mass[a][b] += about * ma[i] * mb[i]
			}
		}
	}
	return Frequencies(stiff, mass)
}

// carry turns a rigid motion about a place, in axes turned by so much, into the same motion about
// the origin in the car's axes. Its transpose turns loads about the origin into loads there.
func carry(at plane.Point, turn float64, across bool) (m [Rigid][Rigid]float64) {
	x := plane.Pose{Turn: turn}.Apply(plane.Point{X: 1})
	z := plane.Pose{Turn: turn}.Apply(plane.Point{Z: 1})
	if across {
		// Turns about x and z are a vector in the plane; y at the origin is y at the place less the
		// turns' way there: y(p) = y0 - θx pz + θz px.
		m[1] = [Rigid]float64{0, x.X, z.X}
		m[2] = [Rigid]float64{0, x.Z, z.Z}
		for j := range Rigid {
			m[0][j] = m[1][j]*at.Z - m[2][j]*at.X
		}
		m[0][0]++
		return m
	}
	// x(p) = x0 - θ pz, z(p) = z0 + θ px.
	m[0] = [Rigid]float64{x.X, z.X, at.Z}
	m[1] = [Rigid]float64{x.Z, z.Z, -at.X}
	m[2] = [Rigid]float64{0, 0, 1}
	return m
}

// unitLoad is a unit load at a place, about the origin: work with motions about the origin.
func unitLoad(which int, at plane.Point, across bool) (l [Rigid]float64) {
	m := carry(at, 0, across)
	var unit [Rigid]float64
	unit[which] = 1
	// l · motion(origin) = unit · motion(place), motion(place) = m⁻¹ motion(origin).
	var t [Rigid][Rigid]float64
	for i := range Rigid {
		for j := range Rigid {
			t[i][j] = m[j][i]
		}
	}
	return solve3(t, unit)
}

// solve3 solves m x = b by Cramer's rule.
func solve3(m [Rigid][Rigid]float64, b [Rigid]float64) (x [Rigid]float64) {
	det := func(a [Rigid][Rigid]float64) float64 {
		return a[0][0]*(a[1][1]*a[2][2]-a[1][2]*a[2][1]) - a[0][1]*(a[1][0]*a[2][2]-a[1][2]*a[2][0]) + a[0][2]*(a[1][0]*a[2][1]-a[1][1]*a[2][0])
	}
	d := det(m)
	for k := range Rigid {
		a := m
		for i := range Rigid {
			a[i][k] = b[i]
		}
		x[k] = det(a) / d
	}
	return x
}
