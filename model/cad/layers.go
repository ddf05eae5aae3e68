package cad

import (
	"path/filepath"
	"strings"
)

// Layer is a layer of a drawing that holds something.
type Layer struct {
	Name     string
	Entities int
}

// Layers lists the layers of a DXF file that its entities are on, in their order; nil for other files, and for one that cannot be read.
func Layers(name string, data []byte) (all []Layer) {
	if len(data) > MaxSize || strings.ToLower(filepath.Ext(name)) != ".dxf" || isDWG(data) {
		return nil
	}
	f, err := takeApart(data)
	if err != nil {
		return nil
	}
	at := map[string]int{}
	for i := range f.entities {
		l := f.entities[i].layer()
		k, ok := at[l]
		if !ok {
			k = len(all)
			at[l], all = k, append(all, Layer{Name: l})
		}
		all[k].Entities++
	}
	return all
}
