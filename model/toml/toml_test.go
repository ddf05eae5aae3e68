package toml

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Three million brackets once were a stack overflow, which no recover catches.
func TestDeepNestingIsRefused(t *testing.T) {
	for name, text := range map[string]string{
		"arrays":      "a = " + strings.Repeat("[", 3_000_000),
		"on line 2":   "b = 1\na = " + strings.Repeat("[", 61) + strings.Repeat("]", 61),
		"inline":      "a = " + strings.Repeat("{a=", 100_000),
		"dotted key":  strings.Repeat("a.", 100_000) + "a = 1",
		"header":      "[" + strings.Repeat("a.", 61) + "a]",
		"open string": "a = \"\n b = " + strings.Repeat("[", 3_000_000),
		"bad escape":  "a = \"\\\n b = " + strings.Repeat("[", 3_000_000),
		"odd quotes":  "a = \"\"\"\"\"\"\"\n b = " + strings.Repeat("[", 3_000_000),
	} {
		var e *Error
		if err := Decode(text, &map[string]any{}); !errors.As(err, &e) || e.Line < 1 {
			t.Errorf("%s: %v, want an error with a line", name, err)
		}
	}
}

// An error is on the line that a person has to mend, and within it.
func TestWhereTheErrorIs(t *testing.T) {
	for text, want := range map[string][2]int{
		"format = 1\n[part\nx = 1\n":     {2, 6},
		"format = 1\n[[part]\nx = 1\n":   {2, 7},
		"[car\n":                         {1, 5},
		"format = 1\nname\nx = 1\n":      {2, 5},
		"format = 1\nx = [1, 2\ny = 3\n": {3, 6},
	} {
		var e *Error
		if err := Decode(text, &map[string]any{}); !errors.As(err, &e) || e.Line != want[0] || e.Col != want[1] {
			t.Errorf("%q: %v at %d:%d, want %v", text, err, e.Line, e.Col, want)
		}
	}
}

// Brackets in strings and comments are no nesting.
func TestBracketsInTextDoNotNest(t *testing.T) {
	many := strings.Repeat("[", 200)
	for _, text := range []string{
		"a = \"" + many + "\"", "a = '" + many + "'", "a = 1 # " + many, "a = \"\"\"\n" + many + "\n\"\"\"", "a = '''\n" + many + "\\'''",
		"a = \"\\\"" + many + "\"", strings.Repeat("# [\n", 100) + "a = 1", "a = \"" + strings.Repeat("1.", 100) + "\"",
	} {
		if err := Decode(text, &map[string]any{}); err != nil {
			t.Errorf("%.40q: %v", text, err)
		}
	}
}

func TestTextSaysHowToSave(t *testing.T) {
	for name, data := range map[string][]byte{"UTF-16 LE": {0xFF, 0xFE, 'a', 0}, "UTF-16 BE": {0xFE, 0xFF, 0, 'a'}, "Latin-1": []byte("a = \"caf\xe9\"")} {
		if _, err := Text(data); err == nil || !strings.Contains(err.Error(), "save it as UTF-8") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if text, err := Text([]byte("\uFEFFa = 1")); err != nil || text != "a = 1" {
		t.Errorf("with a byte-order mark: %q, %v", text, err)
	}
}

// What Quote spells, Decode reads back.
func TestQuoteReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := strings.ToValidUTF8(rapid.String().Draw(t, "text"), "\uFFFD")
		var got map[string]string
		if err := Decode("a = "+Quote(want), &got); err != nil || got["a"] != want {
			t.Fatalf("%q is spelt %s and read as %q, %v", want, Quote(want), got["a"], err)
		}
	})
}

// Whatever is read, nothing panics or overflows, and positions lie within the text.
func FuzzDecode(f *testing.F) {
	for _, s := range []string{"a = 1", "a = [[[", "[a.b]\nc = { d = \"x\" }", "a = \"\"\"x\"\"\"\"", "a = '''", "[[a]]\nb = [1, 2] # [", "a = {\n b = 1,\n}"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var v map[string]any
		err := Decode(text, &v)
		at := Locate(text)
		for path, from := range at.From {
			if to := at.To[path]; from < 0 || to < from || to > len(text) {
				t.Fatalf("%q stands from %d to %d of %d bytes", path, from, to, len(text))
			}
		}
		var e *Error
		if err != nil && (!errors.As(err, &e) || e.Line < 1 || e.Col < 1) {
			t.Fatalf("%q: %#v", text, err)
		}
	})
}

func TestPositions(t *testing.T) {
	doc := "a = 1 # c\n[b]\n\"q.r\" = '''x\ny'''\n[[c]]\nd = [ 1, { e = \"]}\" } ]\n[[c]]\n[c.f]\ng.h = {}\n"
	at := Locate(doc)
	for path, want := range map[string]Spot{
		"a": {1, 5}, "b.q.r": {3, 9}, "c[0].d": {6, 5}, "c[0].d[1].e": {6, 16}, "c[1]": {7, 1}, "c[1].f.g.h": {9, 7},
	} {
		if got := at.Value[path]; got != want {
			t.Errorf("%s at %v, want %v", path, got, want)
		}
	}
}
