package guide

import (
	"math"
	"slices"
	"strings"

	"stanchion/model/toml"
	"stanchion/model/units"
)

// DesignCommand is the command that finds the holes of an upright for what was wanted; what was not said stands in capitals.
func DesignCommand(a Answers, file string, u units.System) string {
	return strings.Join(designWords(a, file, u), " ")
}

// DesignLines is DesignCommand as it can be copied from a terminal of some cells: on one line where there is room, else
// on several that a shell takes for one, each but the last ending in a backslash.
func DesignLines(a Answers, file string, cells int, u units.System) []string {
	words := designWords(a, file, u)
	if whole := strings.Join(words, " "); len([]rune(whole)) <= cells {
		return []string{whole}
	}
	lines := []string{words[0]}
	for _, w := range words[1:] {
		last := len(lines) - 1
		if len([]rune(lines[last]))+len([]rune(w))+3 <= cells {
			lines[last] += " " + w
			continue
		}
		lines[last] += " \\"
		lines = append(lines, "  "+w)
	}
	return lines
}

// shellQuoted is a file's name as a shell takes it for one word.
func shellQuoted(name string) string {
	if name != "" && strings.IndexFunc(name, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("._-/+:@%,", r))
	}) < 0 && name[0] != '-' {
		return name
	}
	if strings.HasPrefix(name, "-") {
		name = "./" + name
	}
	return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
}

// designWords are the command's words: its beginning, and each flag with its value.
func designWords(a Answers, file string, u units.System) []string {
	words := []string{"stanchion design " + shellQuoted(file)}
	heights, err := readHeights(a["want_heights"], u)
	if err != nil || len(heights) == 0 {
		words = append(words, "--height H")
	}
	for _, h := range heights {
		words = append(words, "--height "+toml.Decimal(h/u.LengthSize(), 2))
	}
	angles, err := readAngles(a["want_angles"])
	if err != nil || len(angles) == 0 {
		return append(words, "--angle-max A", "--step A")
	}
	slices.Sort(angles)
	step := 0.0
	for i := 1; i < len(angles); i++ {
		step = max(step, angles[i]-angles[i-1])
	}
	if step == 0 {
		step = 1 // one angle: any step does
	}
	return append(words, "--angle-min "+toml.Decimal(angles[0], 2), "--angle-max "+toml.Decimal(angles[len(angles)-1], 2),
		"--step "+toml.Decimal(math.Ceil(step*100-1e-6)/100, 2))
}
