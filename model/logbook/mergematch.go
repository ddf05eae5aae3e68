package logbook

import (
	"bytes"
	"crypto/sha256"
	"slices"
	"strings"
)

// matched finds which notes stand in a book already, and what they are called there. Each note
// of the book is met once, save by one that is there twice under one id.
func matched(ours, theirs []incoming, order []int, known bool) (same []bool, called []string) {
	same, called = make([]bool, len(theirs)), make([]string, len(theirs))
	ourKeys, weSay := contents(ours, known)
	theirKeys, theySay := contents(theirs, known)
	free := map[string][]int{}
	for i := range ours {
		free[ourKeys[i]] = append(free[ourKeys[i]], i)
	}
	twice := map[string]int{}
	meet := func(i, at int) {
		key := theirKeys[i]
		same[i], called[i] = true, ours[free[key][at]].note.ID
		free[key] = slices.Delete(free[key], at, at+1)
		twice[theirs[i].note.ID+"\n"+key] = i
	}
	for i := range theirs { // those with the same id first
		key, id := theirKeys[i], theirs[i].note.ID
		if at := slices.IndexFunc(free[key], func(o int) bool { return ours[o].note.ID == id }); at >= 0 {
			meet(i, at)
		}
	}
	for i := range theirs {
		if same[i] {
			continue
		}
		if of, met := twice[theirs[i].note.ID+"\n"+theirKeys[i]]; met {
			same[i], called[i] = true, called[of]
		} else if len(free[theirKeys[i]]) > 0 {
			meet(i, 0)
		}
	}
	// One of the two books may lack a note that is named in both.
	here, there := map[string]int{}, map[string]int{}
	for i := range ours {
		here[ours[i].note.ID] = i
	}
	for i := range theirs {
		there[theirs[i].note.ID] = i
	}
	delete(there, "")
	met := map[int]bool{}
	for _, i := range order {
		n := &theirs[i].note
		o, is := here[n.ID]
		if same[i] || !is || met[o] || ours[o].note.Replaces != n.Replaces || ours[o].note.Restores != n.Restores || weSay[o] != theySay[i] {
			continue
		}
		to, inTheirs := there[n.Replaces]
		if _, inOurs := here[n.Replaces]; inOurs && inTheirs && !(same[to] && called[to] == n.Replaces) {
			continue
		}
		same[i], called[i], met[o] = true, n.ID, true
	}
	return same, called
}

// editedHere looks for notes that are one note of which a hand changed one copy, by the checksum that both
// closing lines say. One that was changed here is the same as theirs; one that was changed there is taken as a
// correction of ours, by its place in theirs.
func editedHere(ours, theirs []incoming, same []bool, called []string) map[int]string {
	here := map[string]int{}
	for i := range ours {
		if ours[i].sum != "" {
			here[ours[i].note.ID+" "+ours[i].sum] = i
		}
	}
	edited := map[int]string{}
	for i := range theirs {
		t := &theirs[i]
		o, is := here[t.note.ID+" "+t.sum]
		switch {
		case same[i] || !is || t.sum == "":
		case t.sound:
			same[i], called[i] = true, t.note.ID
		case ours[o].sound:
			taken := slices.IndexFunc(ours, func(n incoming) bool { return n.note.Replaces == t.note.ID && content(n.of) == content(t.of) })
			if taken >= 0 { // it was taken before
				same[i], called[i] = true, ours[taken].note.ID
			} else {
				edited[i] = t.note.ID
			}
		}
	}
	return edited
}

// saidSum is the checksum that a block's closing line says; "" where it says none.
func (b *block) saidSum(data []byte) string {
	if f := bytes.Fields(data[b.end:b.to]); len(f) == 4 {
		return string(f[3])
	}
	return ""
}

// elsewhere is put behind the id of a note that is named and that neither book has, where another
// note here has that id: it must not be taken for the one that is meant.
const elsewhere = "-elsewhere"

// contents spells what each note says and, in the place of the id of the note that it replaces, what
// that one says; of one that is not there its id.
func contents(all []incoming, known bool) (keys, says []string) {
	byID := make(map[string]int, len(all))
	notes := make([]Note, len(all))
	for i := range all {
		byID[all[i].note.ID], notes[i] = i, all[i].note
	}
	delete(byID, "") // a row of a table may have no id
	round := map[string]bool{}
	_, circles := inForce(notes)
	for _, c := range circles {
		for _, id := range c {
			round[id] = true
		}
	}
	says = make([]string, len(all))
	for i := range all {
		of := all[i].of
		if known {
			of, _ = values(encode(all[i].note))
		}
		says[i] = content(of)
	}
	keys = make([]string, len(all))
	for i := range all {
		var way []int
		key, at := "", i
		for keys[at] == "" {
			way = append(way, at)
			id := all[at].note.Replaces
			to, there := byID[id]
			if there && id != all[at].note.ID && !round[id] {
				at = to
				continue
			}
			if key = "none " + strings.TrimSuffix(id, elsewhere); there {
				key = "in a circle"
			}
			break
		}
		if keys[at] != "" {
			key = keys[at]
		}
		for _, at := range slices.Backward(way) {
			restored := ""
			if to, there := byID[all[at].note.Restores]; there {
				restored = says[to]
			}
			key = digest(strings.Join([]string{says[at], key, restored}, "\n"))
			keys[at] = key
		}
	}
	return keys, says
}

// digest is a short name of a text.
func digest(text string) string {
	sum := sha256.Sum256([]byte(text))
	return string(sum[:])
}
