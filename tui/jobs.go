package tui

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"stanchion/tui/widgets"
)

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

// matches is how well a word finds an action: by its command best, then by the words that it is found by and its name
// in the footer, then by what it does.
func (a action) matches(word string) int {
	texts := []string{a.does, a.finds + " " + a.label, a.command}
	for i, text := range texts {
		if strings.Contains(strings.ToLower(text), word) && !strings.Contains(strings.ToLower(strings.Join(texts[i+1:], " ")), word) {
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
	if why := a.why(m); why != "" {
		text += " — not now: " + why
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
