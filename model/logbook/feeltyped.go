package logbook

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// HowToType says in a line how a corner is typed.
const HowToType = "u1 to u3 understeer, n neutral, o1 to o3 oversteer: once for the whole corner, or entry, middle, exit (- for one not noted); g0 to g-3 for grip"

// ReadCorner reads how corners felt: "o2" for the whole corner, or entry, middle and exit, "u1 n o2",
// each also as a number from -3 to +3, as letters, "uu", or in words, "slight understeer"; and the grip of
// both ends, "g-2". One that says nothing is an error.
func ReadCorner(text string) (Corner, error) {
	c := noCorner
	var phases []int
	words, err := gradedWords(strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' }))
	if err != nil {
		return noCorner, err
	}
	for _, word := range words {
		if grip, ok := strings.CutPrefix(strings.ToLower(word), "g"); ok {
			g, err := readShort(grip)
			if err != nil || c.Grip != NoFeel {
				return noCorner, fmt.Errorf("%q; give the grip once, g0 to g-3", word)
			}
			c.Grip = g
			continue
		}
		b, ok := readBalance(word)
		if !ok {
			return noCorner, fmt.Errorf("%q; give %s", word, HowToType)
		}
		phases = append(phases, b)
	}
	switch len(phases) {
	case 0:
	case 1:
		c.Entry, c.Middle, c.Exit = phases[0], phases[0], phases[0]
	case 3:
		c.Entry, c.Middle, c.Exit = phases[0], phases[1], phases[2]
	default:
		return noCorner, fmt.Errorf("%q; give one for the whole corner or three: entry, middle, exit", text)
	}
	if c == noCorner {
		return noCorner, fmt.Errorf("%q says nothing; give %s", text, HowToType)
	}
	return c, nil
}

// The words that a balance may be typed in, and its grades.
var (
	wayWords   = map[string]string{"understeer": "u", "oversteer": "o", "neutral": "n"}
	gradeWords = map[string]string{"slight": "1", "clear": "2", "strong": "3"}
)

// gradedWords puts balances in words, "slight understeer", as letters, "u1"; without a grade it is "u". What
// is no such word stays.
func gradedWords(words []string) (spelt []string, err error) {
	for i := 0; i < len(words); i++ {
		word := strings.ToLower(words[i])
		grade, graded := gradeWords[word]
		if graded && i+1 < len(words) {
			i++
			word = strings.ToLower(words[i])
		}
		way, is := wayWords[word]
		switch {
		case graded && (!is || way == "n"):
			return nil, fmt.Errorf("%q; slight, clear or strong goes before understeer or oversteer", words[i])
		case is:
			spelt = append(spelt, way+grade)
		default:
			spelt = append(spelt, words[i])
		}
	}
	return spelt, nil
}

// readBalance reads the balance of one phase.
func readBalance(word string) (b int, ok bool) {
	word = strings.ReplaceAll(strings.ToLower(word), "−", "-")
	switch word {
	case "n":
		return 0, true
	case "-", "–":
		return NoFeel, true
	}
	sign := 0
	switch word[0] {
	case 'u':
		sign = -1
	case 'o':
		sign = 1
	}
	if sign == 0 {
		b, err := strconv.Atoi(word)
		return b, err == nil && b >= -3 && b <= 3
	}
	if strings.Trim(word, word[:1]) == "" && len(word) <= 3 {
		return sign * len(word), true
	}
	b, err := strconv.Atoi(word[1:])
	return sign * b, err == nil && b >= 1 && b <= 3 && len(word) == 2
}

// SpellCorner spells a corner as ReadCorner reads it; "" where nothing is noted.
func SpellCorner(c Corner) string {
	var parts []string
	if c.phased() {
		parts = []string{spellBalance(c.Entry)}
		if c != (Corner{c.Entry, c.Entry, c.Entry, c.Grip}) {
			parts = append(parts, spellBalance(c.Middle), spellBalance(c.Exit))
		}
	}
	if c.Grip != NoFeel {
		parts = append(parts, "g"+strconv.Itoa(c.Grip))
	}
	return strings.Join(parts, " ")
}

func spellBalance(b int) string {
	switch {
	case b == NoFeel:
		return "-"
	case b < 0:
		return "u" + strconv.Itoa(-b)
	case b > 0:
		return "o" + strconv.Itoa(b)
	}
	return "n"
}

// StepCorner makes the last thing in a typed corner one step more to oversteer, or with by -1 to
// understeer; neutral comes into an open one. What cannot be read stays.
func StepCorner(text string, by int) string {
	words := strings.Fields(text)
	if len(words) == 0 || strings.HasSuffix(text, " ") {
		return text + "n"
	}
	last := words[len(words)-1]
	if grip, ok := strings.CutPrefix(last, "g"); ok {
		if g, err := readShort(grip); err == nil {
			words[len(words)-1] = "g" + strconv.Itoa(max(-3, min(g+by, 0)))
		}
		return strings.Join(words, " ")
	}
	if b, ok := readBalance(last); ok {
		if b == NoFeel {
			b = -by // so that it becomes neutral
		}
		words[len(words)-1] = spellBalance(max(-3, min(b+by, 3)))
	}
	return strings.Join(words, " ")
}

// ReadShortfall reads how far from right a thing is, 0 to -3.
func ReadShortfall(text string) (int, error) {
	g, err := readShort(text)
	if typed := strings.TrimSpace(text); err == nil && g < 0 && typed[0] >= '0' && typed[0] <= '9' || strings.HasPrefix(typed, "+") {
		return NoFeel, fmt.Errorf("%q; give a whole number from 0 to -3, with its sign", text)
	}
	return g, err
}

// readShort is ReadShortfall whose sign may be left out.
func readShort(text string) (int, error) {
	g, err := strconv.Atoi(strings.ReplaceAll(strings.TrimSpace(text), "−", "-"))
	if err != nil || g < -3 || g > 3 {
		return NoFeel, fmt.Errorf("%q; give a whole number from 0 to -3", text)
	}
	return min(g, -g), nil
}

// ReadTrack reads how the track was.
func ReadTrack(text string) (string, error) {
	switch t := strings.ToLower(strings.TrimSpace(text)); t {
	case TrackDry, TrackDamp, TrackWet:
		return t, nil
	}
	return "", fmt.Errorf("%q; give %s, %s or %s", text, TrackDry, TrackDamp, TrackWet)
}

// BalanceWord names a balance, rounded to a step of the scale.
func BalanceWord(b float64) string { return balanceWords[max(-3, min(int(math.Round(b)), 3))] }
