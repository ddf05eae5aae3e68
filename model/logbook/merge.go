package logbook

import (
	"errors"
	"io/fs"
	"slices"

	"stanchion/model/files"
)

// Taken is a note of another notebook that is taken into one.
type Taken struct {
	Note    Note
	Was     string // its id there
	Changed bool   // it was changed by hand there: its checksum did not match
	Row     int    // line of the table that it is from; 0 where it is from a notebook
	block   []byte
}

// Conflict says that two notes correct, or take back, the same one: both are kept.
type Conflict struct{ Of, Here, Taken string }

// Merged is what taking notes into a notebook does, or would do.
type Merged struct {
	Path      string
	Taken     []Taken // in the order in which they are put at the end of the notebook
	Same      int     // notes that stand in the notebook already
	Conflicts []Conflict
	NotTaken  []Finding // of the other notebook: torn pieces, and what is no note
	Dangling  []string  // taken notes that replace one which neither has
	Aside     string    // the file that a torn end of the notebook was set aside in
}

// ErrNotNotebook says that a file is no notebook.
var ErrNotNotebook = errors.New("is not a notebook: it has no notes")

// Merge takes the notes of another notebook that are not in the one at path and puts them at its
// end, in the order of their time, each as it stands there. Of two notes with one id and other
// content the other's gets a new id, and so do the references to it. Without write it says what
// it would do and changes nothing.
//
// Merging twice is merging once; merging one into the other gives the same notes as the other into the one.
func Merge(path, other string, write bool) (Merged, error) { return realDisk.merge(path, other, write) }

func (d disk) merge(path, other string, write bool) (Merged, error) {
	data, err := readAll(other)
	if err != nil {
		return Merged{}, err
	}
	switch f := formatOf(data); {
	case f > Format || f < 0:
		return Merged{}, ErrNewer
	case f == 0 && len(blocks(data)) == 0:
		return Merged{}, ErrNotNotebook
	}
	theirs, notTaken, err := incomingNotes(other, data)
	if err != nil {
		return Merged{}, err
	}
	m, err := d.take(path, theirs, false, write)
	m.NotTaken = notTaken
	return m, err
}

// incoming is a note that is to be taken into a notebook.
type incoming struct {
	body  []byte
	of    map[string]any
	note  Note
	sound bool
	sum   string // the checksum that its closing line says
	row   int
}

// incomingNotes are the notes of another notebook that can be read, and what of it cannot.
func incomingNotes(path string, data []byte) (all []incoming, notTaken []Finding, err error) {
	for _, k := range blocks(ended(data)) {
		if k.wrong != "" {
			continue
		}
		of, _ := values(data[k.from:k.end])
		all = append(all, incoming{body: k.body(data), of: of, note: k.note, sound: k.sound, sum: k.saidSum(data)})
	}
	v := verify(path, data)
	torn, err := tornFiles(path)
	if err != nil {
		return nil, nil, err
	}
	v.beside(data, torn)
	for _, f := range v.Findings {
		if slices.Contains([]Kind{CutShort, NotReadable, TornFile, TornFileEmpty}, f.Kind) {
			notTaken = append(notTaken, f)
		}
	}
	return all, notTaken, nil
}

// take puts notes into a notebook. known is for notes that have known keys only: they are compared by those.
func (d disk) take(path string, theirs []incoming, known, write bool) (m Merged, err error) {
	if path, err = files.Resolve(path); err != nil {
		return m, err
	}
	plan := func(data []byte) (err error) {
		m, err = planMerge(path, data, theirs, known)
		return err
	}
	if !write {
		data, err := readAll(path)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return m, err
		}
		if f := formatOf(data); f > Format || f < 0 {
			return m, ErrNewer
		}
		return m, plan(data)
	}
	aside, err := d.add(path, func(data []byte) (text []byte, err error) {
		err = plan(data)
		for i := range m.Taken {
			text = append(text, m.Taken[i].block...)
		}
		return text, err
	})
	m.Aside = aside
	return m, err
}

// planMerge works out what is taken into a notebook that holds data.
func planMerge(path string, data []byte, theirs []incoming, known bool) (Merged, error) {
	m := Merged{Path: path}
	data = ended(data)
	_, ids := wholeNotes(data)
	var ours []incoming
	for _, k := range blocks(data) {
		if k.wrong == "" {
			of, _ := values(data[k.from:k.end])
			ours = append(ours, incoming{of: of, note: k.note, sound: k.sound, sum: k.saidSum(data)})
		}
	}
	byID := map[string]int{}
	for i := range theirs {
		byID[theirs[i].note.ID] = i // of an id that is there twice the later one is meant
	}
	delete(byID, "") // a row of a table may have none
	order := inOrder(theirs, byID)
	same, called := matched(ours, theirs, order, known)
	m.Same = len(theirs)
	edited := editedHere(ours, theirs, same, called)
	taken := map[string]bool{}
	for _, id := range ids {
		taken[id] = true
	}
	for i := range ours {
		taken[ours[i].note.ID], taken[ours[i].note.Replaces] = true, true
	}
	kept := map[string]bool{} // ids that notes keep
	for i := range theirs {
		if n := &theirs[i].note; !same[i] && !taken[n.ID] && plainID(n.ID) && !kept[n.ID] {
			kept[n.ID], called[i] = true, n.ID
		}
	}
	for i := range theirs {
		taken[theirs[i].note.ID], taken[theirs[i].note.Replaces] = true, true
	}
	fresh := freshIDs(taken)
	for i := range theirs {
		if !same[i] && called[i] == "" {
			called[i] = fresh(&theirs[i].note)
		}
	}
	here := map[string]bool{}
	for i := range ours {
		here[ours[i].note.ID] = true
	}
	for _, i := range order {
		if same[i] {
			continue
		}
		m.Same--
		t := &theirs[i]
		set := []named{{"id", called[i]}}
		of, corrects := edited[i]
		if corrects { // the change by hand is a correction of what stands here
			set = append(set, named{"replaces", of})
		}
		for _, ref := range []struct{ key, to string }{{"replaces", t.note.Replaces}, {"restores", t.note.Restores}} {
			if corrects && ref.key == "replaces" {
				continue
			}
			if to, there := byID[ref.to]; there {
				set = append(set, named{ref.key, called[to]})
			} else if ref.to != "" {
				if here[ref.to] {
					set = append(set, named{ref.key, ref.to + elsewhere})
				}
				if ref.key == "replaces" {
					m.Dangling = append(m.Dangling, called[i])
				}
			}
		}
		block, err := sealed(rewritten(t.body, changed(t.of, set)...), called[i])
		if err != nil {
			return m, err
		}
		n := blocks(block)[0].note
		m.Taken = append(m.Taken, Taken{Note: n, Was: t.note.ID, Changed: !t.sound, Row: t.row, block: block})
	}
	m.Conflicts = conflicts(ours, m.Taken)
	return m, nil
}

// changed leaves out what a note has already, so that its bytes stay where they can.
func changed(of map[string]any, set []named) (left []named) {
	for _, s := range set {
		if of[s.key] != s.text {
			left = append(left, s)
		}
	}
	return left
}

// freshIDs gives ids that are not taken, each once.
func freshIDs(taken map[string]bool) func(*Note) string {
	next := map[string]int{}
	return func(n *Note) string {
		day := n.At.Format("2006-01-02")
		for {
			next[day]++
			if id := newID(n.At, next[day]); !taken[id] {
				taken[id] = true
				return id
			}
		}
	}
}

// inOrder are notes by their time, but none before the one that it names.
func inOrder(all []incoming, byID map[string]int) (order []int) {
	byTime := make([]int, len(all))
	for i := range byTime {
		byTime[i] = i
	}
	slices.SortStableFunc(byTime, func(a, b int) int { return all[a].note.At.Compare(all[b].note.At) })
	met, done := make([]bool, len(all)), make([]bool, len(all))
	for _, start := range byTime {
		for way := []int{start}; len(way) > 0; {
			at := way[len(way)-1]
			if !met[at] {
				met[at] = true
				for _, id := range []string{all[at].note.Restores, all[at].note.Replaces} {
					if to, there := byID[id]; there && !met[to] {
						way = append(way, to)
					}
				}
				continue
			}
			way = way[:len(way)-1]
			if !done[at] {
				done[at] = true
				order = append(order, at)
			}
		}
	}
	return order
}

// conflicts are notes that were taken and replace what another one here replaces.
func conflicts(ours []incoming, taken []Taken) (all []Conflict) {
	by := map[string]string{}
	for i := range ours {
		if n := &ours[i].note; n.Replaces != "" && n.Replaces != n.ID {
			by[n.Replaces] = n.ID
		}
	}
	for i := range taken {
		n := &taken[i].Note
		if here := by[n.Replaces]; n.Replaces != "" && here != "" {
			all = append(all, Conflict{n.Replaces, here, n.ID})
		}
	}
	return all
}
