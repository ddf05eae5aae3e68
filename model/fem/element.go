package fem

// elastic is what a plate's stiffness hangs on.
type elastic struct {
	t     float64 // mm
	e, nu float64 // MPa, -
	rho   float64 // t/mm³
}

// shearFactor is of Reissner's and Mindlin's plates. Source: E. Reissner, J. Appl. Mech. 12
// (1945): 5/6.
const shearFactor = 5.0 / 6

// slopes are the shape functions of a cell of side h at a point of a rule, their slopes by x
// and z, 1/mm, and the area that the point stands for, mm².
func (s sample) slopes(h float64) (n, nx, nz [9]float64, area float64) {
	n, nx, nz = shape(s.a, s.b)
	for i := range 9 {
		nx[i] *= 2 / h
		nz[i] *= 2 / h
	}
	return n, nx, nz, s.weight * h * h / 4
}

// membrane returns the stiffness of a cell in plane stress, over (u, v) of its nodes.
func (p elastic) membrane(rule []sample, h float64) (k [18 * 18]float64) {
	d := p.e * p.t / (1 - p.nu*p.nu)
	g := d * (1 - p.nu) / 2
	for _, s := range rule {
		_, nx, nz, area := s.slopes(h)
		for i := range 9 {
			for j := range 9 {
				k[(2*i)*18+2*j] += area * (d*nx[i]*nx[j] + g*nz[i]*nz[j])
				k[(2*i)*18+2*j+1] += area * (d*p.nu*nx[i]*nz[j] + g*nz[i]*nx[j])
				k[(2*i+1)*18+2*j] += area * (d*p.nu*nz[i]*nx[j] + g*nx[i]*nz[j])
				k[(2*i+1)*18+2*j+1] += area * (d*nz[i]*nz[j] + g*nx[i]*nx[j])
			}
		}
	}
	return k
}

// bending returns the stiffness of a cell across the plane, over (w, βx, βz) of its nodes: the
// way y and the slopes of the plate's normals by x and z. Curvatures are βx,x, βz,z and βx,z +
// βz,x, shear strains w,x - βx and w,z - βz.
func (p elastic) bending(rule []sample, h float64) (k [27 * 27]float64) {
	d := p.e * p.t * p.t * p.t / 12 / (1 - p.nu*p.nu)
	c := d * (1 - p.nu) / 2
	g := shearFactor * p.e / 2 / (1 + p.nu) * p.t
	for _, s := range rule {
		n, nx, nz, area := s.slopes(h)
		for i := range 9 {
			for j := range 9 {
				at := 3*i*27 + 3*j
				k[at] += area * g * (nx[i]*nx[j] + nz[i]*nz[j])
				k[at+1] -= area * g * nx[i] * n[j]
				k[at+2] -= area * g * nz[i] * n[j]
				k[at+27] -= area * g * n[i] * nx[j]
				k[at+54] -= area * g * n[i] * nz[j]
				k[at+28] += area * (d*nx[i]*nx[j] + c*nz[i]*nz[j] + g*n[i]*n[j])
				k[at+29] += area * (d*p.nu*nx[i]*nz[j] + c*nz[i]*nx[j])
				k[at+55] += area * (d*p.nu*nz[i]*nx[j] + c*nx[i]*nz[j])
				k[at+56] += area * (d*nz[i]*nz[j] + c*nx[i]*nx[j] + g*n[i]*n[j])
			}
		}
	}
	return k
}

// void is what a cell that an edge passes keeps of a whole one's stiffness, so that the nodes
// beyond the edge stay solvable.
const void = 1e-5

// stiffness adds up the cells' stiffness over so many unknowns a node.
func (g *grid) stiffness(nodes, unknowns int, of func(rule []sample) []float64) *condensed {
	m := newCondensed(g, unknowns, nodes)
	whole := of(wholeRule)
	for e := range g.cells {
		c := &g.cells[e]
		if c.share == 0 {
			continue
		}
		k := whole
		if !c.whole() {
			k = of(c.rule)
			for i := range k {
				k[i] += void * whole[i]
			}
		}
		in := &m.inner[c.nodes[middle]-g.shared]
		size, others := 9*unknowns, 8*unknowns
		for i := range size {
			node, u := i/unknowns, i%unknowns
			row := c.nodes[node]*unknowns + u
			at := 0 // among the unknowns of the cell's other nodes
			for j := range size {
				other := j / unknowns
				switch v := k[i*size+j]; {
				case node == middle && other == middle:
					in.own[u*unknowns+j%unknowns] += v
				case node == middle:
					in.to[u*others+at] += v
				case other != middle:
					if col := c.nodes[other]*unknowns + j%unknowns; col >= row {
						m.data[row*(m.k+1)+col-row] += v
					}
				}
				if other != middle {
					at++
				}
			}
		}
	}
	return m
}

// each calls do with every point of the rules of all cells, with the cell and the area that the
// point stands for.
func (g *grid) each(do func(c *cell, n, nx, nz *[9]float64, area float64)) {
	type point struct {
		n, nx, nz [9]float64
		area      float64
	}
	var whole []point
	for _, s := range wholeRule {
		var p point
		p.n, p.nx, p.nz, p.area = s.slopes(g.h)
		whole = append(whole, p)
	}
	for e := range g.cells {
		c := &g.cells[e]
		switch {
		case c.share == 0:
		case c.whole():
			for i := range whole {
				do(c, &whole[i].n, &whole[i].nx, &whole[i].nz, whole[i].area)
			}
		default:
			for _, s := range c.rule {
				n, nx, nz, area := s.slopes(g.h)
				do(c, &n, &nx, &nz, area)
			}
		}
	}
}
