package main

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"stanchion/model/carfile"
	"stanchion/model/figures"
	"stanchion/tui"
)

//go:embed topics/carfile.txt
var aboutCarfile string

//go:embed topics/notes.txt
var aboutNotes string

//go:embed topics/measuring.txt
var aboutMeasuring string

//go:embed topics/method.txt
var aboutMethod string

//go:embed topics/fit.txt
var aboutFit string

//go:embed topics/logged.txt
var aboutLogged string

//go:embed topics/sources.txt
var aboutSources string

//go:embed topics/exit-codes.txt
var aboutExitCodes string

// topic is a page of help that belongs to no one command.
type topic struct {
	name, short string
	text        func() string
}

// topics lists the pages of help, which are also man pages.
func topics() []topic {
	fixed := func(text string) func() string { return func() string { return text } }
	return []topic{
		{"carfile", "everything that can stand in a car file", func() string { return aboutCarfile + string(carfile.Start()) }},
		{"notes", "what the notebook's file holds", fixed(aboutNotes)},
		{"json", "what commands print with --format json", jsonText},
		{"measuring", "how to measure what goes into it", fixed(aboutMeasuring)},
		{"method", "how the figures are worked out, and what is left out", fixed(aboutMethod)},
		{"fit", "what measurements on track tell, and what [fit] holds", fixed(aboutFit)},
		{"logged", "what a recording of the logger tells, and how to drive for it", fixed(aboutLogged)},
		{"figures", "every figure: what it is, its equation and source", figuresText},
		{"keys", "the keys of the explorer", keysText},
		{"exit-codes", "what the exit code says", fixed(aboutExitCodes)},
		{"sources", "sources, and what the figures are checked against", fixed(aboutSources)},
	}
}

// findTopic returns the topic of a name.
func findTopic(name string) (topic, bool) {
	all := topics()
	i := slices.IndexFunc(all, func(t topic) bool { return t.name == name })
	if i < 0 {
		return topic{}, false
	}
	return all[i], true
}

// topicList lists the topics for the end of a help.
func topicList() string {
	var b strings.Builder
	for _, t := range topics() {
		fmt.Fprintf(&b, "  %-12s %s\n", t.name, t.short)
	}
	return b.String()
}

// figuresText says of every figure what it is and where it comes from.
func figuresText() string {
	var b strings.Builder
	b.WriteString("The figures of a setting\n\n\"stanchion explain FIGURE CARFILE [ID]\" puts the numbers of a setting in. In JSON and CSV\na figure has the key beside its name, which ends in its unit.\n")
	for _, f := range figures.List {
		fmt.Fprintf(&b, "\n%s (%s)\n  %s\n", f.Name, f.Key, strings.ReplaceAll(ansi.Wordwrap(f.How, 84, ""), "\n", "\n  "))
		if eq := f.Symbolic(); eq != "" {
			fmt.Fprintf(&b, "  = %s\n", eq)
		}
		if f.Source != "" {
			fmt.Fprintf(&b, "  source: %s\n", f.Source)
		}
	}
	b.WriteString("\nSymbols\n\n")
	for _, s := range figures.Symbols() {
		fmt.Fprintf(&b, "  %-5s %s\n", s.Name, s.Meaning)
		if eq := s.Symbolic(); eq != "" {
			fmt.Fprintf(&b, "        = %s\n", eq)
		}
	}
	return b.String()
}

// keysText lists the keys of the explorer.
func keysText() string {
	return "The keys of the explorer\n\n" + strings.Join(tui.KeyHelp(), "\n") + "\n\n" +
		"On a page about a setting the keys of the other pages lead there, ← and → go to the next\nangle, and esc goes back. A click on the map goes to the setting there.\n"
}
