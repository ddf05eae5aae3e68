package tui

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/model/units"
	"stanchion/tui/widgets"
)

// paintActions are the keys that choose what the maps are painted by.
func paintActions() []action {
	var all []action
	for i, p := range paintings() {
		a := action{keys: []string{p.key}, does: "the maps show " + p.name, finds: "map table colour", run: paintWith(i), whyNot: p.whyNot}
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
			{keys: []string{"e"}, does: "list the faults of the car file, and what is odd in it", command: "check", finds: "error mistake", run: Model.listFaults, whyNot: needsFaults},
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
	run                       bool   // it is run at once, with nothing to type
	fixed                     string // what it is then run with
}

// commandJobs lists them.
func commandJobs() []commandJob {
	setting := func(m Model) string { return quoted(m.row().ID) }
	part := func(m Model) string { return "--part " + quoted(m.car.Parts[max(len(m.car.Parts)-2, 0)].Name) + " " }
	return []commandJob{
		{key: "C", does: "can the maker's downforce figure be: what it needs at each speed", command: "claim", finds: "maker's claim credible", run: true},
		{key: "A", does: "how much downforce the front needs to suit this wing", command: "front", finds: "splitter balance axle",
			args: func(m Model) string {
				return setting(m) + " --share " + units.Fixed(100*m.table.Without.FrontShare(), 1)
			}, hint: "ID --share 48"},
		{key: "K", does: "what a lap says: speeds in corners and on the straight", command: "track", finds: "corner radius lap estimate",
			args: func(m Model) string { return setting(m) + " --corner 80m --grip 1.1" }, hint: "ID --corner 80m --grip 1.1"},
		{key: "S", does: "fit the figures to what was measured on track", command: "note fit", finds: "calibrate runs scale", run: true},
		{key: "L", does: "which setting to try next, after the last note", command: "note next", finds: "advice recommend", run: true},
		{key: "J", does: "correct the fixed part's place by all readings in the file", command: "datum", finds: "level readings bracket measured", run: true},
		{key: "P", does: "draw a part at 1:1, the setting, or the map, into a file", command: "draw", finds: "print template pdf dxf svg picture save card",
			args: func(m Model) string { return "--setting " + setting(m) + " -o setting.pdf" }, hint: "upright -o upright.pdf"},
		{key: "I", does: "take holes and outline from a DXF or CSV", command: "import", finds: "drawing cad read",
			args: func(m Model) string { return "" }, hint: "plate.dxf --part upright"},
		{key: "D", does: "where a new hole would narrow the widest steps: the best places, and what each adds", command: "hole suggest", finds: "new hole position gap fill",
			run: true, fixed: "--fill"},
		{key: "O", does: "where a new hole gives an angle that you name", command: "hole suggest", finds: "new hole position",
			args: func(m Model) string { return part(m) + "--angle " }, hint: "--angle 4.3 --height 1300mm"},
		{key: "Q", does: "why bolts do not go in, and by how much they miss", command: "why", finds: "fit holes miss",
			args: func(m Model) string { return "" }, hint: "bolts such as A:F A3:R; nothing for all"},
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
	if m.src.Run == nil {
		return "only from the command line: stanchion " + j.command
	}
	if j.args != nil {
		return needsRows(m)
	}
	return ""
}

// start runs the command, or asks for what it needs.
func (j commandJob) start(m Model) (Model, tea.Cmd) {
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
	return m, func() tea.Msg {
		text, failed := run(append(line, words...), unit)
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

// jobsMode is the list of jobs, searched by word.
type jobsMode struct {
	input widgets.Field
	at    int
}

// job is a row of the list.
type job struct {
	action
	walk  bool // it only walks on: it comes last
	score int  // how well the words find it
}

// openJobs opens the list.
func (m Model) openJobs() (Model, tea.Cmd) {
	j := jobsMode{input: widgets.NewField("a word: hole, lid, note, print …", 40)}
	cmd := j.input.Focus()
	return m.with(j), cmd
}

// jobs lists the jobs, those that the words find first, each once.
func (j jobsMode) jobs() (all []job, found int) {
	words := strings.Fields(strings.ToLower(j.input.Value()))
	var rest []job
	for i, g := range allGroups() {
		for _, a := range g.actions {
			j := job{action: a, walk: i == 0}
			for _, w := range words {
				n := a.matches(w)
				if n == 0 {
					n = -100 // all words must be found
				}
				j.score += n
			}
			if j.score > 0 {
				all = append(all, j)
			} else {
				rest = append(rest, j)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b job) int { return cmp.Or(compareBool(a.walk, b.walk), b.score-a.score) })
	slices.SortStableFunc(rest, func(a, b job) int { return compareBool(a.walk, b.walk) })
	return append(all, rest...), len(all)
}

// matches is how well a word finds an action: by its command best, then by the words that it is found by, then
// by what it does.
func (a action) matches(word string) int {
	for i, text := range []string{a.does, a.finds, a.command} {
		if strings.Contains(strings.ToLower(text), word) && !strings.Contains(strings.ToLower(strings.Join([]string{a.does, a.finds, a.command}[i+1:], " ")), word) {
			return i + 1
		}
	}
	return 0
}

// compareBool puts false before true.
func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

func (jobsMode) title() string { return "in the list of jobs" }

func (jobsMode) typing() bool { return true }

func (j jobsMode) bindings(Model) []binding {
	move := func(by int) func(Model, string) (Model, tea.Cmd) {
		return func(m Model, _ string) (Model, tea.Cmd) {
			j, _ := in[jobsMode](m)
			all, _ := j.jobs()
			j.at = min(max(j.at+by, 0), len(all)-1)
			return m.with(j), nil
		}
	}
	return []binding{
		{keys: []string{"up"}, label: "↑↓ choose", does: "the job above", run: move(-1)},
		{keys: []string{"down", "tab"}, does: "the job below", run: move(1)},
		{keys: []string{"pgup"}, does: "ten up", run: move(-10)},
		{keys: []string{"pgdown"}, does: "ten down", run: move(10)},
		{keys: []string{"enter"}, label: "enter start", does: "start the marked job", run: func(m Model, _ string) (Model, tea.Cmd) {
			j, _ := in[jobsMode](m)
			all, _ := j.jobs()
			a := all[min(j.at, len(all)-1)]
			return m.closed().press(a.keys[0])
		}},
		{keys: []string{"esc", "ctrl+c"}, label: "esc back", does: "go back", run: closeMode},
	}
}

func (j jobsMode) other(m Model, key tea.KeyMsg) (Model, tea.Cmd) {
	var cmd tea.Cmd
	j.input, cmd = widgets.TypeInto(j.input, key)
	j.at = 0
	return m.with(j), cmd
}

// jobLine is a row of the list: what it does, its key and its command, and why it cannot be done now.
func (m Model) jobLine(a action, w int) string {
	name := a.keys[0]
	if n, ok := keyNames[name]; ok {
		name = n
	}
	text := fmt.Sprintf("%-7s%s", name, a.does)
	if a.command != "" && w >= 100 {
		text += "  (stanchion " + a.command + ")"
	}
	if a.whyNot != nil {
		if why := a.whyNot(m); why != "" {
			text += " — not now: " + why
		}
	}
	return text
}

// jobsFoot is how many lines say the marked job whole.
const jobsFoot = 3

// jobsRoom is how many jobs a screen has room for.
func jobsRoom(height int) int { return max(height-3-jobsFoot, 1) }

func (j jobsMode) view(m Model) (string, bool) {
	all, found := j.jobs()
	head := fmt.Sprintf("jobs: %s", j.input.View())
	count := fmt.Sprintf("%d jobs, by word, key or command", len(all))
	if j.input.Value() != "" {
		count = fmt.Sprintf("%d of %d match; the others are below", found, len(all))
	}
	lines := []string{head, quietStyle.Render(count)}
	whole := widgets.Wrap(m.jobLine(all[min(j.at, len(all)-1)].action, 1<<10), m.width) // a line may be cut: the marked job is said whole below
	whole = whole[:min(len(whole), jobsFoot)]
	win := window(min(j.at, len(all)-1), len(all), jobsRoom(m.height))
	for i := win[0]; i < win[1]; i++ {
		a := all[i]
		line := "  " + m.jobLine(a.action, m.width)
		switch {
		case i == j.at:
			line = selectedStyle.Render("▸ " + m.jobLine(a.action, m.width))
		case i >= found && j.input.Value() != "":
			line = quietStyle.Render(line)
		}
		lines = append(lines, line)
	}
	for len(lines) < m.height-1-jobsFoot {
		lines = append(lines, "")
	}
	for i := range jobsFoot {
		text := ""
		if i < len(whole) {
			text = whole[i]
		}
		lines = append(lines, selectedStyle.Render(text))
	}
	return widgets.Fit(append(lines, quietStyle.Render(m.footerOf(j))), m.width, m.height, m.glyphs), true
}

func (j jobsMode) tell(w *walker) {
	all, found := j.jobs()
	if j.input.Value() == "" {
		w.say("Jobs: type a word, or the key of one, or esc.")
		found = len(all)
	}
	for _, a := range all[:found] {
		w.say("%s", plainText(w.m.jobLine(a.action, 100)))
	}
}

func (j jobsMode) typed(w *walker, text string) {
	for _, a := range keyTable() {
		if a.keys[0] == text || keyNames[a.keys[0]] == text {
			w.m = w.m.closed()
			w.pass(plainKey(text))
			w.tell()
			return
		}
	}
	j.input.SetValue(widgets.Typeable(text))
	w.m = w.m.with(j)
	w.tell()
}
