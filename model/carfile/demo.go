package carfile

import (
	"embed"
	"io/fs"
	"sort"
	"strings"

	"stanchion/model"
)

// The demo cars are invented: none of them is a real car, wing or maker.
//
//go:embed demo
var demos embed.FS

// DemoName is the demo car that opens when no file is named.
const DemoName = "coupe"

// Demos lists the names of the demo cars, the one that opens first at the front.
func Demos() []string {
	names := []string{DemoName}
	files, _ := fs.Glob(demos, "demo/*.toml")
	sort.Strings(files)
	for _, f := range files {
		if n := strings.TrimSuffix(strings.TrimPrefix(f, "demo/"), ".toml"); n != DemoName {
			names = append(names, n)
		}
	}
	return names
}

// Demo reads a demo car.
func Demo(name string) (*model.Car, error) {
	sub, err := fs.Sub(demos, "demo")
	if err != nil {
		return nil, err
	}
	return LoadFS(sub, name+".toml")
}

// DemoFiles returns the files of a demo car by name, the car file first.
func DemoFiles(name string) (names []string, files map[string][]byte, err error) {
	files = map[string][]byte{}
	all, err := fs.Glob(demos, "demo/"+name+"*")
	if err != nil {
		return nil, nil, err
	}
	for _, f := range all {
		short := strings.TrimPrefix(f, "demo/")
		if files[short], err = demos.ReadFile(f); err != nil {
			return nil, nil, err
		}
		names = append(names, short)
	}
	sort.Slice(names, func(a, b int) bool {
		return strings.HasSuffix(names[a], ".toml") && !strings.HasSuffix(names[b], ".toml")
	})
	return names, files, nil
}
