module a.stanchion/silence

go 1.26.0

require github.com/charmbracelet/lipgloss v1.1.0
