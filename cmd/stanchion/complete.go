package main

import (
	"cmp"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"stanchion/model/carfile"
	"stanchion/model/logbook"
	"stanchion/model/units"
)

// word is what a shell may put in the place of what is typed, and what to say beside it.
type word struct{ is, beside string }

// asked is what a shell wants completed: the words before, without flags, and the one that is typed.
type asked struct {
	cmd   *cobra.Command
	args  []string
	typed string
}

// car is the argument that names the car file; "" where none is there yet.
func (a asked) car() string {
	at := 0
	if a.cmd.CommandPath() == "stanchion explain" {
		at = 1
	}
	if at >= len(a.args) {
		return ""
	}
	return a.args[at]
}

// wordsFor returns words for what is asked; folders among them end in a slash.
type wordsFor func(asked) []word

// argumentWords says by what the arguments of a command are completed: the first by the first, and all that are left by the last.
func argumentWords() map[string][]wordsFor {
	return map[string][]wordsFor{
		"stanchion":               {carWords},
		"stanchion check":         {carWords, nil},
		"stanchion undo":          {carWords, nil},
		"stanchion redo":          {carWords, nil},
		"stanchion datum":         {carWords, nil},
		"stanchion import":        {carWords, fileWords(".dxf", ".svg", ".csv", ".tsv", ".txt"), nil},
		"stanchion map":           {carWords, nil},
		"stanchion show":          {carWords, oneSetting},
		"stanchion pick":          {carWords, nil},
		"stanchion compare":       {carWords, moreSettings},
		"stanchion sweep":         {carWords, moreSettings},
		"stanchion front":         {carWords, oneSetting},
		"stanchion track":         {carWords, moreSettings},
		"stanchion claim":         {carWords, nil},
		"stanchion explain":       {figureWords, carWords, oneSetting},
		"stanchion why":           {carWords, holeWords},
		"stanchion strength":      {carWords, oneSetting},
		"stanchion parts":         {carWords, oneSetting},
		"stanchion clear":         {carWords, oneSetting},
		"stanchion hole try":      {carWords, nil},
		"stanchion hole suggest":  {carWords, nil},
		"stanchion hole built":    {carWords, nil},
		"stanchion design":        {carWords, nil},
		"stanchion cutting":       {carWords, nil},
		"stanchion draw":          {carWords, partWords, nil},
		"stanchion card":          {carWords, moreSettings},
		"stanchion checks":        {carWords, oneSetting},
		"stanchion logged read":   {carWords, recordingWords},
		"stanchion logged laps":   {carWords, recordingWords},
		"stanchion logged coast":  {carWords, recordingWords},
		"stanchion logged ride":   {carWords, recordingWords},
		"stanchion logged top":    {carWords, recordingWords},
		"stanchion logged corner": {carWords, recordingWords},
		"stanchion laps":          {carWords, fileWords(".csv", ".tsv", ".txt"), nil},
		"stanchion plan":          {carWords, moreSettings},
		"stanchion note add":      {carWords, nil},
		"stanchion note list":     {carWords, nil},
		"stanchion note export":   {carWords, nil},
		"stanchion note show":     {carWords, noteWords, nil},
		"stanchion note compare":  {carWords, noteWords, noteWords, nil},
		"stanchion note next":     {carWords, nil},
		"stanchion note fit":      {carWords, nil},
		"stanchion note undo":     {carWords, nil},
		"stanchion note verify":   {carWords, nil},
		"stanchion note recover":  {carWords, nil},
		"stanchion note merge":    {carWords, fileWords(".toml"), nil},
		"stanchion note import":   {carWords, fileWords(".csv", ".tsv", ".txt"), nil},
		"stanchion new":           {fileWords(".toml"), nil},
		"stanchion start":         {fileWords(".toml"), nil},
	}
}

// recordingWords are files that may be recordings.
var recordingWords = fileWords(".csv", ".tsv", ".txt", ".gpx", ".nmea", ".log")

// flagWords says by what values of flags are completed, "COMMAND --FLAG" before "--FLAG". Those that are in neither are free: numbers with
// their units, places, texts.
func flagWords() map[string]wordsFor {
	return map[string]wordsFor{
		"--part": partWords, "--joint": jointWords, "--setting": aSetting, "--from": aSetting, "--between": aSetting, "--replaces": noteWords, "--confirm": noteWords,
		"stanchion note list --setting": nil, "stanchion note export --setting": nil, "stanchion note list --from": dayWords, "stanchion note export --from": dayWords,
		"stanchion note list --to": dayWords, "stanchion note export --to": dayWords, "--place": placeWords,
		"--layer": layerWords, "--hole": holeIDWords, "--photo": fileWords(".png", ".jpg", ".jpeg"),
		"stanchion draw --output": fileWords(".pdf", ".svg", ".dxf", ".csv", ".png"), "stanchion sweep --output": fileWords(".svg", ".png", ".pdf"), "stanchion card --output": fileWords(".pdf", ".html"),
		"stanchion schema --output": fileWords(".json"), "--out": fileWords(".toml"),
		"--proposal": fixedWords("1", "2", "3"), "--by": func(asked) []word { return plainWords(betweenFigures()) }, "--shape": fixedWords("convex", "slim", "swan-neck"), "--keep": keptWords,
		"--drawing": fixedWords("braille", "blocks", "ascii"), "--unit": fixedWords("mm", "cm", "m", "in"), "--track": fixedWords("dry", "damp", "wet"),
		"--strength":              fixedWords("pass", "80%"),
		"stanchion checks --done": itemWords, "--failed": itemWords, "--struck": fixedWords(logbook.Strikes()...), "stanchion checks --by": checkerWords,
		"stanchion checks --output": fileWords(".pdf"),
		"--find":                    fixedWords("fastest", "balance", "downforce", "drag"), "stanchion plan --output": fileWords(".pdf"),
	}
}

func plainWords(all []string) (list []word) {
	for _, w := range all {
		list = append(list, word{is: w})
	}
	return list
}

func fixedWords(all ...string) wordsFor { return func(asked) []word { return plainWords(all) } }

// withCompletion has the arguments and flags of all commands completed.
func withCompletion(root *cobra.Command) { completed(root, argumentWords(), flagWords()) }

func completed(c *cobra.Command, arguments map[string][]wordsFor, flags map[string]wordsFor) {
	path := c.CommandPath()
	if of, ok := arguments[path]; ok {
		c.ValidArgsFunction = func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			return answered(of[min(len(args), len(of)-1)], asked{c, args, typed})
		}
	}
	c.Flags().VisitAll(func(f *pflag.Flag) {
		from, own := flags[path+" --"+f.Name]
		if !own {
			from = flags["--"+f.Name]
		}
		if _, has := c.GetFlagCompletionFunc(f.Name); has || f.Value.Type() == "bool" {
			return
		}
		_ = c.RegisterFlagCompletionFunc(f.Name, func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
			return answered(from, asked{c, args, typed})
		})
	})
	for _, sub := range c.Commands() {
		completed(sub, arguments, flags)
	}
}

// patience is how long a shell waits for words at most. A car that takes longer gets none.
var patience = time.Second

// answered asks for words and spells them for the shell: those that begin with what is typed, and that can be typed. A file that has
// faults, or a fault of ours, gives none.
func answered(from wordsFor, a asked) ([]string, cobra.ShellCompDirective) {
	const plainly = cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveKeepOrder
	if from == nil {
		return nil, plainly
	}
	done := make(chan []word, 1)
	go func() {
		var list []word
		defer func() {
			_ = recover() // completion is quiet
			done <- list
		}()
		_ = chosenUnits.resolve()
		list = from(a)
	}()
	var list []word
	select {
	case list = <-done:
	case <-time.After(patience):
	}
	var all []string
	folders := 0
	for _, w := range list {
		if !strings.HasPrefix(w.is, a.typed) || w.is == "" || units.Printable(w.is) != w.is {
			continue
		}
		if strings.HasSuffix(w.is, "/") {
			folders++
		}
		if beside := units.Printable(w.beside); beside != "" {
			all = append(all, w.is+"\t"+beside)
		} else {
			all = append(all, w.is)
		}
	}
	if folders > 0 && folders == len(all) {
		return all, plainly | cobra.ShellCompDirectiveNoSpace
	}
	return all, plainly
}

// carWords are demo cars and car files.
func carWords(a asked) (all []word) {
	for _, d := range carfile.Demos() {
		name := "demo:" + d
		if d == carfile.DemoName {
			name = "demo"
		}
		if _, taken := os.Stat(name); taken != nil {
			all = append(all, word{name, "demo car"})
		}
	}
	for _, w := range fileWords(".toml")(a) {
		if !strings.HasSuffix(w.is, ".notes.toml") {
			all = append(all, w)
		}
	}
	return all
}

// fileWords are files with one of the endings, and folders.
func fileWords(endings ...string) wordsFor {
	return func(a asked) (all []word) {
		dir, begun := filepath.Split(a.typed)
		entries, _ := os.ReadDir(cmp.Or(dir, "."))
		for _, e := range entries {
			name := e.Name()
			if strings.HasPrefix(name, ".") && !strings.HasPrefix(begun, ".") {
				continue
			}
			info, err := os.Stat(filepath.Join(dir, name))
			switch {
			case err != nil:
			case info.IsDir():
				all = append(all, word{is: dir + name + "/"})
			case slices.Contains(endings, strings.ToLower(filepath.Ext(name))):
				all = append(all, word{is: dir + name})
			}
		}
		return all
	}
}
