package main

import (
	"cmp"
	"fmt"
	"os"
	"strings"

	"stanchion/tui/widgets"
)

// glyphNames are what --drawing can ask for.
var glyphNames = map[string]widgets.Glyphs{"braille": widgets.Braille, "blocks": widgets.Blocks, "ascii": widgets.ASCII}

// glyphsFor is what the explorer is drawn with: as asked for, or what the locale and the terminal can
// show.
func glyphsFor(asked string) (widgets.Glyphs, error) {
	if asked != "" {
		g, ok := glyphNames[strings.ToLower(asked)]
		if !ok {
			return 0, fmt.Errorf("--drawing is %q; it must be braille, blocks or ascii", asked)
		}
		return g, nil
	}
	locale := strings.ToLower(cmp.Or(os.Getenv("LC_ALL"), os.Getenv("LC_CTYPE"), os.Getenv("LANG")))
	switch {
	case locale != "" && !strings.Contains(locale, "utf-8") && !strings.Contains(locale, "utf8"):
		return widgets.ASCII, nil
	case os.Getenv("TERM") == "linux": // its font has no braille
		return widgets.Blocks, nil
	}
	return widgets.Braille, nil
}

// wordsOnly reports whether the terminal can show no screen at all, so that the walk in words is what
// it can have.
func wordsOnly() bool { return os.Getenv("TERM") == "dumb" }
