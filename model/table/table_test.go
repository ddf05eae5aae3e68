package table

import (
	"reflect"
	"strings"
	"testing"
)

// Tables as spreadsheets of several places save them.
func TestRead(t *testing.T) {
	for name, text := range map[string]string{
		"commas":     "a,b\n1,\"x, y\"\n\n2,z\n",
		"semicolons": "a;b\n1;\"x, y\"\n;\n2;z\n",
		"tabs":       "a\tb\n1\tx, y\n\t\n2\tz",
		"a mark":     "\uFEFFa,b\r\n1,\"x, y\"\r\n2,z\r\n",
	} {
		tab, err := Read([]byte(text), 10)
		if err != nil || len(tab.Rows) != 2 || len(tab.Torn) > 0 {
			t.Fatalf("%s: %+v, %v", name, tab, err)
		}
		if !reflect.DeepEqual(tab.Head.Cells, []string{"a", "b"}) || tab.Rows[0].Cell(1) != "x, y" || tab.Rows[1].Cell(0) != "2" || tab.Rows[1].Cell(5) != "" {
			t.Errorf("%s: %+v", name, tab)
		}
	}
}

func TestPlaces(t *testing.T) {
	tab, err := Read([]byte("a,b\n\"two\nlines\",x\ny,\"un\"closed\nz,1\n"), 10)
	if err != nil {
		t.Fatal(err)
	}
	if r := tab.Rows[0]; r.Line != 2 || r.Lines[1] != 3 || r.Cols[1] != 8 {
		t.Errorf("%+v", r)
	}
	if len(tab.Torn) != 1 || tab.Torn[0].Line != 4 || tab.Rows[len(tab.Rows)-1].Cell(0) != "z" {
		t.Errorf("torn %+v, rows %+v", tab.Torn, tab.Rows)
	}
}

func TestNoTable(t *testing.T) {
	for text, want := range map[string]string{"": "no head line", "\xff\xfea\x00": "UTF-16", "a,b\n\xfc,1": "not UTF-8", "a\n1\n2\n3\n": "more than 2 rows"} {
		if _, err := Read([]byte(text), 2); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("a;b\n1;2\n"))
	f.Add([]byte("\uFEFFa\tb\n\"\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		tab, err := Read(data, 100)
		if err != nil {
			return
		}
		lines := strings.Count(string(data), "\n") + 1
		for _, r := range append(tab.Rows, tab.Head) {
			if r.Line < 1 || r.Line > lines || len(r.Cols) != len(r.Cells) {
				t.Fatalf("%+v of %d lines", r, lines)
			}
		}
	})
}
