package cad

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

// sections gathers the entities of a DXF file while its pairs go by.
type sections struct {
	file
	section  string  // that is open; "" between two
	named    bool    // its name is still to come
	variable string  // of the header, whose value comes next
	block    string  // whose entities follow
	last     *entity // that pairs go to; nil for none
	open     *entity // a polyline or an insert whose vertices or attributes follow; nil for none
	count    int
	ended    bool
}

// takeApart reads the sections of a DXF file.
// Source: Autodesk, "DXF Reference", release 2018: group codes in the sections
// HEADER, BLOCKS and ENTITIES.
func takeApart(data []byte) (*file, error) {
	split := groups
	if bytes.HasPrefix(data, binaryMark) {
		split = binaryGroups
	}
	s := sections{file: file{header: map[string]string{}, blocks: map[string][]entity{}, bases: map[string][2]float64{},
		hidden: map[string]bool{}, lineTypes: map[string]string{}}}
	if err := split(data, s.pair); err != nil {
		return nil, err
	}
	if !s.ended {
		return nil, errCut
	}
	s.latin = s.header["$ACADVER"] < "AC1021" || !utf8.Valid(data)
	return &s.file, nil
}

// pair takes one group.
func (s *sections) pair(line int, p pair) error {
	const comment = 999
	switch {
	case s.ended || p.code == comment:
		return nil
	case p.code != 0:
		s.value(p)
		return nil
	}
	s.store()
	return s.begin(line, strings.TrimSpace(p.value))
}

// value takes a group that is about what is open.
func (s *sections) value(p pair) {
	switch {
	case s.named && p.code == 2:
		s.section, s.named = strings.TrimSpace(p.value), false
	case s.section == "HEADER" && p.code == 9:
		s.variable = strings.TrimSpace(p.value)
	case s.section == "HEADER":
		if _, met := s.header[s.variable]; !met {
			s.header[s.variable] = strings.TrimSpace(p.value)
		}
	case s.last != nil:
		s.last.pairs = append(s.last.pairs, p)
	}
}

// begin begins or ends a section, or begins an entity.
func (s *sections) begin(line int, kind string) error {
	switch {
	case kind == "SECTION":
		s.named, s.section = true, ""
	case kind == "ENDSEC":
		s.close()
		s.section, s.block = "", ""
	case kind == "EOF":
		s.ended = true
	case s.section == "TABLES" && kind == "LAYER":
		s.last = &entity{kind: kind, line: line}
	case s.section == "ENTITIES" || s.section == "BLOCKS":
		if s.count++; s.count > maxEntities {
			return fmt.Errorf("line %d: more than %d entities; draw the part alone", line, maxEntities)
		}
		s.last = &entity{kind: kind, line: line}
	}
	return nil
}

// put adds an entity to the drawing or to the block that is open.
func (s *sections) put(e entity) {
	if s.section == "BLOCKS" {
		s.blocks[s.block] = append(s.blocks[s.block], e)
		return
	}
	s.entities = append(s.entities, e)
}

// close puts what waits for its end mark.
func (s *sections) close() {
	if s.open != nil {
		s.put(*s.open)
		s.open = nil
	}
}

// store puts the entity whose pairs have all gone by.
func (s *sections) store() {
	e := s.last
	s.last = nil
	switch {
	case e == nil:
	case s.section == "TABLES":
		if int(e.number(70, 0))&1 != 0 || e.number(62, 7) < 0 {
			s.hidden[strings.ToUpper(e.text(2))] = true
		}
		s.lineTypes[strings.ToUpper(e.text(2))] = e.text(6)
	case e.kind == "BLOCK":
		s.block = e.text(2)
		s.bases[s.block] = [2]float64{e.number(10, 0), e.number(20, 0)}
		if _, ok := s.blocks[s.block]; !ok {
			s.blocks[s.block] = nil
		}
	case e.kind == "ENDBLK" || e.kind == "SEQEND" && s.open == nil:
	case s.open != nil && (e.kind == "VERTEX" || e.kind == "SEQEND"):
		s.open.inner = append(s.open.inner, *e)
		if e.kind == "SEQEND" {
			s.close()
		}
	default:
		s.close() // a polyline that ends without its mark
		if e.kind == "POLYLINE" || e.kind == "INSERT" && e.number(66, 0) == 1 {
			s.open = e
		} else {
			s.put(*e)
		}
	}
}
