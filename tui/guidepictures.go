package tui

import "strings"

// guidePictures show what the guided start asks to measure, each by its letter.
// They are schematic: front is left, as on all pictures here.
var guidePictures = map[string]string{
	"car": `
             D ┬        ____________
               │      /              \          ___
               │    /                  \       |wing
        _______│__/                      \_____|____
       |       │                                    |
       |   __  │                              __    |
       |__/  \_│_____________________________/  \___|
          \__/ ┴                             \__/
           B                                  C
           ├─────────────── A ────────────────┤`,
	"bracket": `
                        bracket
                        o     o  ┐
                        o     o  ┘ G   rows
                        o     o
              ┌──────── o     o        its lowest front hole
              │         ├─ H ─┤        P  angle of a row to level
            F │
              │
        hub + │     __
            | │    /  \   rear wheel
     ───────┴─┴────\__/──────────────────── ground
            ├── E ──┤`,
	"upright": `
            leading edge        trailing edge
             <═══════o═══════o═══════════>
             ├── J ──┤       │     angle L, trailing edge up
             ├────── K ──────┤
                   ┌─o───────o─┐
                 ┬ │ o         │   front bolt's hole
                 │ │           │
               I │ │  upright  │   Q  how far it is behind the lowest hole
                 │ │           │
                 │ │ o     o   │
                 ┴ │ o     o   │   its lowest hole
                   └───────────┘`,
	"wing": `
            from above                    from the side
      ┌──────────────────────────┐
      │                          │       <═══════════════>
      │                          │       ├────── N ──────┤
      └──────────────────────────┘
      ├─────────── M ────────────┤`,
}

// guidePicture draws a picture with one of its letters set off.
func guidePicture(name, letter string) []string {
	var lines []string
	for _, l := range strings.Split(strings.TrimPrefix(guidePictures[name], "\n"), "\n") {
		if letter != "" {
			if i := measureAt(l, letter); i >= 0 {
				end := i + len(letter)
				if i > 0 && end < len(l) && l[end] == ' ' { // marks in the place of the spaces
					l = l[:i-1] + selectedStyle.Render("▸"+letter+"◂") + l[end+1:]
				} else {
					l = l[:i] + selectedStyle.Render(letter+"◂") + l[end:]
				}
			}
		}
		lines = append(lines, l)
	}
	return lines
}

// measureAt finds a letter that stands alone in a line.
func measureAt(line, letter string) int {
	from := 0
	for {
		i := strings.Index(line[from:], letter)
		if i < 0 {
			return -1
		}
		i += from
		before, after := i == 0 || line[i-1] == ' ', i+len(letter) == len(line) || line[i+len(letter)] == ' ' || line[i+len(letter)] == ','
		if before && after {
			return i
		}
		from = i + len(letter)
	}
}
