package plane

// Behind reports whether a ray from a point to the rear crosses the edge from a to b.
func Behind(p, a, b Point) bool { return behind(p, a, b) }

// Parity counts along an outline's edges, from its first corner, how often a ray from a point to the rear crosses them: odd[i] says whether it is odd for the edges
// before corner i, and the last of all whether the point is inside. What a chain of corners adds to the count of any polygon that has it is then one comparison.
func Parity(outline []Point, p Point) (odd []bool) {
	odd = make([]bool, len(outline)+1)
	for i, a := range outline {
		odd[i+1] = odd[i] != behind(p, a, outline[(i+1)%len(outline)])
	}
	return odd
}
