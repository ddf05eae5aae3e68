package tui

import (
	"errors"
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/units"
)

// paintActions are the keys that choose what the maps are painted by.
func paintActions() []action {
	var all []action
	for i, p := range paintings() {
		a := action{keys: []string{p.key}, does: "the maps show " + p.name + p.about, finds: "map table colour", run: paintWith(i), whyNot: p.whyNot}
		if i == 0 {
			a.label = "1-9 figure"
		}
		all = append(all, a)
	}
	return all
}

// allGroups are the groups of keys, and the jobs that a command does.
func allGroups() []group {
	return append(keyGroups(),
		group{"jobs that a command does", commandActions()},
		group{"car file", []action{
			{keys: []string{"e"}, does: "list the faults of the car file, what is assumed, and what is odd in it", command: "check", finds: "error mistake guess open", run: Model.listFaults, whyNot: needsFaults},
			{keys: []string{"E"}, does: "open the car file in your editor, at its fault", finds: "edit change mend", run: Model.edit, whyNot: needsFile},
			{keys: []string{"N"}, does: "make a car file of your own, step by step", command: "start", finds: "new guide begin", run: Model.startGuide, whyNot: needsGuide},
		}},
		group{"help and leave", []action{
			{keys: []string{":"}, does: "all jobs, searched by word", finds: "list command", run: Model.openJobs},
			{keys: []string{"?"}, does: "list all keys", finds: "help", run: Model.help},
			{keys: []string{"esc"}, does: "leave help, a page, a prompt, a large map or a message", run: Model.leave},
			{keys: []string{"q", "ctrl+c"}, does: "leave stanchion", finds: "quit exit", run: Model.quit},
		}},
	)
}

// commandJob is a job that a command of the program does: the explorer runs the same command and shows
// what it prints.
type commandJob struct {
	key, does, command, finds string
	args                      func(Model) string // what is typed for it at first; nil when it needs nothing
	hint                      string
	run                       bool                    // it is run at once, with nothing to type
	ask                       func(Model) *firstAsked // what is asked before that; nil for nothing
	fixed                     string                  // what it is then run with
}

// commandJobs lists them.
func commandJobs() []commandJob {
	setting := func(m Model) string { return quoted(m.row().ID) }
	part := func(m Model) string { return "--part " + quoted(m.car.Parts[max(len(m.car.Parts)-2, 0)].Name) + " " }
	return []commandJob{
		{key: "C", does: "can the maker's downforce figure be: what it needs at each speed", command: "claim", finds: "maker's claim credible", run: true, ask: askClaim},
		{key: "A", does: "how much downforce the front needs to suit this wing", command: "front", finds: "splitter balance axle",
			args: func(m Model) string {
				return setting(m) + " --share " + units.Fixed(100*m.table.Without.FrontShare(), 1)
			}, hint: "ID --share 48"},
		{key: "K", does: "what a lap says: speeds in corners and on the straight", command: "track", finds: "corner radius lap estimate",
			args: func(m Model) string { return setting(m) + " --corner 80m --grip 1.1" }, hint: "ID --corner 80m --grip 1.1"},
		{key: "J", does: "correct the fixed part's place by all readings in the file", command: "datum", finds: "level readings bracket measured", run: true},
		{key: "P", does: "draw a part at 1:1, the setting, or the map, into a file", command: "draw", finds: "print template pdf dxf svg picture save card",
			args: func(m Model) string { return "--setting " + setting(m) + " -o setting.pdf" }, hint: "upright -o upright.pdf"},
		{key: "$", does: "cards of settings for the toolbox or the phone, into a file: pdf or html", command: "card", finds: "print toolbox tape phone pdf html save",
			args: func(m Model) string { return setting(m) + " -o card.pdf" }, hint: "-o cards.pdf; ID -o card.html"},
		{key: "I", does: "take holes and outline from a DXF or CSV", command: "import", finds: "drawing cad read",
			args: func(m Model) string { return "" }, hint: "plate.dxf --part upright"},
		{key: "D", does: "where a new hole would narrow the widest steps: the best places, and what each adds", command: "hole suggest", finds: "new hole position gap fill",
			run: true, fixed: "--fill"},
		{key: "O", does: "where a new hole gives an angle that you name", command: "hole suggest", finds: "new hole position",
			args: func(m Model) string { return part(m) + "--angle " }, hint: "--angle 4.3 --height 1300mm"},
		{key: "Q", does: "why bolts do not go in, and by how much they miss", command: "why", finds: "fit holes miss",
			args: func(m Model) string { return "" }, hint: "bolts such as A:F A3:R; nothing for all"},
		{key: "T", does: "parts list: bolts, nuts and washers for all settings", command: "parts", finds: "buy order bolts nuts washers length hardware", run: true},
		{key: "V", does: "is the car file sound, and what is odd in it", command: "check", finds: "faults warnings", run: true},
		{key: "X", does: "every setting as a table, or as CSV or JSON into a file", command: "map", finds: "export list csv",
			args: func(m Model) string { return "" }, hint: "nothing for all, or --inside-limits --format csv"},
	}
}

// quoted puts a word into quotes where it has blanks.
func quoted(word string) string {
	if strings.ContainsAny(word, " \t\"'\\") {
		return "'" + strings.ReplaceAll(word, "'", "") + "'"
	}
	return word
}

// commandActions are the keys of the command jobs.
func commandActions() []action {
	var all []action
	for _, j := range commandJobs() {
		all = append(all, action{keys: []string{j.key}, does: j.does, command: j.command, finds: j.finds, run: j.start, whyNot: j.whyNot})
	}
	return all
}

func (j commandJob) whyNot(m Model) string {
	if m.proposed != nil {
		return "not with a proposal: W writes it to a car file first"
	}
	if m.src.Run == nil {
		return "only from the command line: stanchion " + j.command
	}
	if j.args != nil {
		return needsRows(m)
	}
	return ""
}

// firstAsked is one line that is asked for a command, and the arguments that an answer makes.
type firstAsked struct {
	label, hint string
	arguments   func(text string) string
}

// askClaim asks for the maker's figure where the car file has none.
func askClaim(m Model) *firstAsked {
	if m.car.Claim.Downforce.Known() {
		return nil
	}
	return &firstAsked{"the maker's downforce", "1200N, or 1200N at 200km/h (or in [claim] of the file)", func(text string) string {
		force, speed, ok := strings.Cut(text, " at ")
		args := "--downforce " + quoted(strings.TrimSpace(force))
		if ok {
			args += " --at " + quoted(strings.TrimSpace(speed))
		}
		return args
	}}
}

// start runs the command, or asks for what it needs.
func (j commandJob) start(m Model) (Model, tea.Cmd) {
	if j.ask != nil {
		if q := j.ask(m); q != nil {
			return m.prompt(q.label, q.hint, func(m Model, text string) (Model, tea.Cmd, error) {
				if strings.TrimSpace(text) == "" {
					return m, nil, errors.New("type the maker's figure, such as 1200N, or esc")
				}
				m, cmd := m.runCommand(j.command, q.arguments(text))
				return m, cmd, nil
			})
		}
	}
	if j.run {
		return m.runCommand(j.command, j.fixed)
	}
	m, cmd := m.prompt(j.command, j.hint, func(m Model, text string) (Model, tea.Cmd, error) {
		m, cmd := m.runCommand(j.command, text)
		return m, cmd, nil
	})
	p, _ := in[promptMode](m)
	p.input.SetValue(j.args(m))
	p.input.CursorEnd()
	return m.with(p), cmd
}

// ranMsg is what a command printed.
type ranMsg struct {
	command, text string
	failed        bool
}

// runCommand runs a command of the program on the car file, in the background.
func (m Model) runCommand(command, args string) (Model, tea.Cmd) {
	words, err := splitArguments(args)
	if err != nil {
		m.message = err.Error()
		return m, nil
	}
	m.message = "stanchion " + command + "…"
	run, line, unit := m.src.Run, append(strings.Fields(command), m.src.Name), m.units
	cells := max(m.width-1, 20)
	if m.words {
		cells = 0
	}
	return m, func() tea.Msg {
		text, failed := run(append(line, words...), unit, cells)
		return ranMsg{command + " " + args, text, failed}
	}
}

// splitArguments parts a line into words as a shell does with quotes.
func splitArguments(line string) (words []string, err error) {
	var word strings.Builder
	open, inWord := rune(0), false
	for _, r := range line {
		switch {
		case open != 0 && r == open:
			open = 0
		case open != 0:
			word.WriteRune(r)
		case r == '\'' || r == '"':
			open, inWord = r, true
		case r == ' ' || r == '\t':
			if inWord {
				words = append(words, word.String())
				word.Reset()
				inWord = false
			}
		default:
			inWord = true
			word.WriteRune(r)
		}
	}
	if open != 0 {
		return nil, fmt.Errorf("a quote %c is not closed", open)
	}
	if inWord {
		words = append(words, word.String())
	}
	return words, nil
}

// take shows what a command printed as a page.
func (msg ranMsg) take(m Model) (Model, tea.Cmd) {
	m.message = ""
	if m.open != nil { // the person has gone on
		m.message = "stanchion " + strings.TrimSpace(msg.command) + " is done; start it again to see what it says"
		return m, nil
	}
	head := "stanchion " + strings.TrimSpace(msg.command)
	lines := []string{titleStyle.Render(units.Printable(head))}
	if laid := m.laid(); laid != "" {
		lines = append(lines, assumedStyle.Render("of the car file as it is saved; what is shown here has more:"+laid))
	}
	lines = append(lines, "")
	for _, l := range strings.Split(strings.TrimRight(msg.text, "\n"), "\n") {
		lines = append(lines, units.Printable(l))
	}
	return m.read(func(Model) []string { return lines })
}
