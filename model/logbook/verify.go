package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"stanchion/model/files"
)

// Kind is what is wrong with a place of a notebook.
type Kind string

// What can be found in a notebook.
const (
	NewerFormat   Kind = "newer_format"     // the file is of a newer format
	NoFormat      Kind = "no_format"        // no line says which format it is
	ChangedByHand Kind = "changed_by_hand"  // a note's checksum does not match
	CutShort      Kind = "cut_short"        // the closing line is missing
	NotReadable   Kind = "not_readable"     // not TOML, or not a note
	IDTwice       Kind = "id_twice"         // an earlier note has the same id
	ReplacesNone  Kind = "replaces_none"    // it replaces a note that is not there
	ReplacedTwice Kind = "replaced_twice"   // another note replaces the same one
	Circle        Kind = "circle"           // notes replace one another
	NotUsable     Kind = "not_usable"       // keys whose values cannot be used
	TornFile      Kind = "torn_file"        // a file beside it has notes that were cut short
	TornFileHeld  Kind = "torn_file_held"   // the same, and all it has is in the notebook
	TornFileEmpty Kind = "torn_file_no_key" // the same, with nothing in it that can be read
)

// Finding is one thing that is wrong in a notebook or beside it.
type Finding struct {
	Kind   Kind
	Line   int      // of the notebook, where it begins; 0 where it is of no line
	ID     string   // of the note; "" where it has none that can be read
	Others []string // ids of other notes that it is about
	Keys   []string // of the note, that it is about
	Why    string   // what the reader says
	File   string   // the file beside it
}

// Verified is what a look at a notebook found.
type Verified struct {
	Path     string
	Notes    int // that can be read
	InForce  int
	Findings []Finding // in the order of the file, then the files beside it
}

// Verify looks a notebook and the torn pieces beside it through. An error says that it cannot
// be read; fs.ErrNotExist that there is neither.
func Verify(path string) (Verified, error) {
	path, err := files.Resolve(path)
	if err != nil {
		return Verified{Path: path}, err
	}
	data, err := readAll(path)
	missing := errors.Is(err, fs.ErrNotExist)
	if err != nil && !missing {
		return Verified{Path: path}, err
	}
	pieces, pieceErr := tornFiles(path)
	if pieceErr != nil {
		return Verified{Path: path}, pieceErr
	}
	if missing && len(pieces) == 0 {
		return Verified{Path: path}, err
	}
	v := verify(path, data)
	v.beside(data, pieces)
	return v, nil
}

func verify(path string, data []byte) Verified {
	b := parse(path, data)
	v := Verified{Path: path, Notes: len(b.All), InForce: len(b.InForce())}
	line := lines{data: data}
	switch f := formatOf(data); {
	case f > Format || f < 0:
		v.add(Finding{Kind: NewerFormat, Line: 1})
	case f == 0 && len(b.All) > 0:
		v.add(Finding{Kind: NoFormat, Line: 1})
	}
	data = ended(data)
	all := blocks(data)
	confirmed := confirmedIn(all)
	ids, replacedBy, back := map[string]bool{}, map[string]string{}, map[string]bool{}
	for i := range all {
		if all[i].wrong == "" {
			ids[all[i].note.ID] = true
			if all[i].note.Withdrawn {
				back[all[i].note.Replaces] = true
			}
		}
	}
	_, circles := inForce(b.All)
	met := map[string]bool{}
	book := held(data)
	length, _ := wholeNotes(data)
	for i := range all {
		k := &all[i]
		n := k.note
		at := line.of(k.from + len(k.lead(data)))
		id := n.ID
		switch {
		case !k.whole && k.to <= length && settled(data[k.from:k.to], book): // put back
			continue
		case !k.whole:
			v.add(Finding{Kind: CutShort, Line: at, ID: pieceID(data[k.from:k.to])})
			continue
		case k.wrong != "":
			v.add(Finding{Kind: NotReadable, Line: at, Why: k.wrong})
			continue
		case !k.sound && !confirmed[k.sum(data)]:
			v.add(Finding{Kind: ChangedByHand, Line: at, ID: id})
		}
		if met[id] {
			v.add(Finding{Kind: IDTwice, Line: at, ID: id})
		}
		met[id] = true
		if len(k.odd) > 0 {
			v.add(Finding{Kind: NotUsable, Line: at, ID: id, Keys: k.odd})
		}
		if n.Replaces == "" {
			continue
		}
		if !ids[n.Replaces] {
			v.add(Finding{Kind: ReplacesNone, Line: at, ID: id, Others: []string{n.Replaces}})
		}
		if by := replacedBy[n.Replaces]; by != "" && by != id && !back[id] {
			v.add(Finding{Kind: ReplacedTwice, Line: at, ID: id, Others: []string{n.Replaces, by}})
		}
		if !back[id] {
			replacedBy[n.Replaces] = id
		}
		if n.Replaces == id {
			v.add(Finding{Kind: Circle, Line: at, ID: id, Others: []string{id}})
		}
		for _, c := range circles {
			if slices.Contains(c, id) && c[0] == id {
				v.add(Finding{Kind: Circle, Line: at, ID: id, Others: c})
			}
		}
	}
	// What is torn and has no opening line is found by no block.
	if rest := data[length:]; !blank(rest) && (len(all) == 0 || all[len(all)-1].whole && all[len(all)-1].to <= length) {
		v.add(Finding{Kind: CutShort, Line: line.of(length)})
	}
	return v
}

func (v *Verified) add(f Finding) { v.Findings = append(v.Findings, f) }

// beside adds what the torn pieces beside a notebook hold.
func (v *Verified) beside(data []byte, torn []tornFile) {
	book := held(data)
	for _, t := range torn {
		f := Finding{Kind: TornFileEmpty, File: t.name}
		for _, p := range pieces(t.data) {
			if !p.says() {
				continue
			}
			if book.holds(&p) {
				if f.Kind == TornFileEmpty {
					f.Kind = TornFileHeld
				}
			} else {
				f.Kind = TornFile
				f.ID = p.text("id")
			}
			for _, k := range p.keys {
				if !slices.Contains(f.Keys, k.key) {
					f.Keys = append(f.Keys, k.key)
				}
			}
		}
		v.add(f)
	}
}

// settled reports whether all that can be read of torn pieces stands in the book.
func settled(torn []byte, book *holding) bool {
	return !slices.ContainsFunc(pieces(torn), func(p piece) bool { return p.garbled() || p.says() && !book.holds(&p) })
}

// lead is what stands before a block's opening line.
func (b *block) lead(data []byte) []byte {
	text := data[b.from:b.to]
	return text[:len(text)-len(bytes.TrimLeft(text, "\r\n"))]
}

// lines counts lines of places that come one after the other.
type lines struct {
	data []byte
	at   int
	n    int
}

func (l *lines) of(at int) int {
	at = min(at, len(l.data))
	if at < l.at {
		l.at, l.n = 0, 0
	}
	l.n += bytes.Count(l.data[l.at:at], []byte("\n"))
	l.at = at
	return l.n + 1
}

// tornFile is a file of torn pieces beside a notebook.
type tornFile struct {
	name string
	data []byte
	info fs.FileInfo
}

// tornFiles are the files of torn pieces beside a notebook, in the order they were set aside.
func tornFiles(path string) (all []tornFile, err error) {
	dir, base := filepath.Split(path)
	entries, err := os.ReadDir(filepath.Clean(dir + "."))
	if err != nil {
		return nil, err
	}
	number := map[string]int{}
	for _, e := range entries {
		digits, ok := strings.CutPrefix(e.Name(), base+".torn-")
		n, err := strconv.Atoi(digits)
		if !ok || err != nil {
			continue
		}
		name := filepath.Join(dir, e.Name())
		data, err := files.Read(name, MaxSize)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", e.Name(), err)
		}
		info, err := os.Stat(name)
		if err != nil {
			return nil, err
		}
		number[name] = n
		all = append(all, tornFile{name, data, info})
	}
	slices.SortFunc(all, func(a, b tornFile) int { return number[a.name] - number[b.name] })
	return all, nil
}
