package carfile

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"unicode"

	"stanchion/model/units"
)

// Files that were made by mistake or malice end in a clear answer with nothing in it
// that acts on a terminal.
func TestHostileFiles(t *testing.T) {
	sound := string(Start())
	holes := func(n int, step float64) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "  { id = \"h%d\", x = %g, z = 0, d = 8.4 },\n", i, float64(i)*step)
		}
		return b.String()
	}
	withHoles := func(text string) string {
		return strings.Replace(sound, "  { id = \"1\", x = 0, z = 0, d = 8.4 },\n", text, 1)
	}
	for _, row := range []struct{ name, text, want string }{
		{"10 MB of comments", sound + strings.Repeat("# "+strings.Repeat("x", 98)+"\n", 100_000), ""},
		{"10 MB in one line", sound + "# " + strings.Repeat("x", 10<<20), ""},
		{"17 MB", sound + strings.Repeat("#\n", 17<<19), "16 MiB at most"},
		{"10,000 holes", withHoles(holes(9_990, 20)), ""},
		{"10,000 holes in one place", withHoles(holes(9_990, 0)), "lie on top of each other"},
		{"20,000 holes", withHoles(holes(20_000, 20)), "at most 10000"},
		{"deep brackets", sound + "\n[x]\na = " + strings.Repeat("[", 100_000) + strings.Repeat("]", 100_000), "brackets or tables nest"},
		{"deep tables", sound + "\n[" + strings.Repeat("a.", 50_000) + "a]\n", "brackets or tables nest"},
		{"many faults", strings.Repeat("a = b\n", 200_000), "not TOML"},
		{"not a number", strings.Replace(sound, "wheelbase       = 2500", "wheelbase = nan", 1), "NaN"},
		{"endless", strings.Replace(sound, "wheelbase       = 2500", "wheelbase = inf", 1), "Inf"},
		{"a far hole", withHoles("{ id = \"1\", x = 1e300, z = 0, d = 8.4 },\n"), "between"},
		{"escapes in a name", strings.Replace(sound, "My car", `\u001b]0;owned\u0007\u202Eevil`, 1), "characters that do not print"},
		{"escapes in the text", strings.Replace(sound, "My car", "\x1b[2Jx", 1), ""},
		{"wide and combining", strings.Replace(sound, "My car", "車🏎️e\u0301", 1), ""},
		{"Windows", "\uFEFF" + strings.ReplaceAll(sound, "\n", "\r\n"), ""},
		{"old Macs", strings.ReplaceAll(sound, "\n", "\r"), ""},
		{"not UTF-8", strings.Replace(sound, "My car", "caf\xe9", 1), "not UTF-8"},
		{"zeros", sound + "\x00\x00", ""},
		{"binary", strings.Repeat("\x7fELF\x00\xff\xfe", 10_000), "not UTF-8"},
		{"nothing", "", "is missing"},
		{"three million brackets", sound + "\n[x]\na = " + strings.Repeat("[", 3_000_000), "brackets or tables nest"},
		{"70,000 unknown keys", unknownKeys(70_000), "and 69956 more faults"},
		{"a long name", strings.Replace(sound, "My car", strings.Repeat("x", 5000), 1), "at most 200"},
	} {
		_, err := Parse(row.name, []byte(row.text), func(string) ([]byte, error) { return nil, errors.New("none") })
		text := fmt.Sprint(err)
		if _, err := PartsOf(row.name, []byte(row.text)); err != nil && strings.Count(err.Error(), "\n") > maxFaults {
			t.Errorf("%s: many lines of faults in the parts", row.name)
		}
		if row.want != "" && !strings.Contains(text, row.want) {
			t.Errorf("%s: %.300s, want %q", row.name, text, row.want)
		}
		if n := strings.Count(text, "\n"); n > maxFaults {
			t.Errorf("%s: %d lines of faults", row.name, n)
		}
		if i := strings.IndexFunc(text, func(r rune) bool { return r != '\n' && (unicode.IsControl(r) || units.Hidden(r)) }); i >= 0 {
			t.Errorf("%s: %q acts on a terminal", row.name, text[i:min(len(text), i+10)])
		}
	}
}

func unknownKeys(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "k%d = 1\n", i)
	}
	return b.String()
}
