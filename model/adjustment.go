package model

// Adjustment is something else on the car that can be set, such as splitter, anti-roll bars, dampers or a Gurney flap. The
// notebook has how it was; no figure depends on it.
type Adjustment struct {
	Name  string
	Steps []string // in order, as they are noted; nil for what is typed freely
}
