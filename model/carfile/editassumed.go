package carfile

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"stanchion/model"
	"stanchion/model/toml"
)

// takeOutAngle returns the edits that take the fixed part's angle out of what a file calls assumed, each with its
// line where nothing else stands on it. The error says that it has to be done by hand.
func takeOutAngle(doc []byte, at toml.Positions) ([]Edit, error) {
	values, err := decoded(doc)
	if err != nil {
		return nil, err
	}
	list, _ := values["assumed"].([]any)
	var edits []Edit
	kept := false // the item before stays
	for i, v := range list {
		text, _ := v.(string)
		what, _, _ := strings.Cut(strings.TrimSpace(text), ": ")
		if !(model.Assumption{What: what, Said: true}).OfFixedAngle() {
			kept = true
			continue
		}
		item := fmt.Sprintf("assumed[%d]", i)
		before := -1
		if kept {
			before = at.To[fmt.Sprintf("assumed[%d]", i-1)]
		}
		edits = append(edits, itemOut(doc, at.From[item], at.To[item], before))
		kept = false
	}
	if after, err := decoded(Apply(doc, edits)); err == nil {
		if left, _ := after["assumed"].([]any); len(left) == len(list)-len(edits) {
			return edits, nil
		}
	}
	return nil, errors.New("the fixed part's angle could not be taken out of assumed: take it out by hand first")
}

// itemOut takes an item out of a list, with its comma, and with its line where it has one of its own. before is where
// the item before ends; -1 where there is none.
func itemOut(doc []byte, from, to, before int) Edit {
	end := to + len(doc[to:]) - len(bytes.TrimLeft(doc[to:], " \t"))
	comma := end < len(doc) && doc[end] == ','
	if !comma {
		end = to
	} else {
		end++
	}
	start, next := bytes.LastIndexByte(doc[:from], '\n')+1, len(doc)
	if n := bytes.IndexByte(doc[end:], '\n'); n >= 0 {
		next = end + n + 1
	}
	lead, rest := string(bytes.TrimSpace(doc[start:from])), bytes.TrimSpace(doc[end:next])
	switch {
	case (lead == "" || lead == "," && !comma) && (len(rest) == 0 || rest[0] == '#'):
		return Edit{From: start, To: next}
	case !comma && before >= 0 && strings.Trim(string(doc[before:from]), " \t,") == "":
		return Edit{From: before, To: to}
	}
	for end < len(doc) && comma && (doc[end] == ' ' || doc[end] == '\t') {
		end++
	}
	return Edit{From: from, To: end}
}
