package carfile

import (
	"bytes"
	_ "embed"
)

//go:embed start.toml
var start []byte

// Start returns a commented car file to start from. It is valid as it stands.
func Start() []byte { return bytes.Clone(start) }
