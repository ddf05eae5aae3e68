package main

import "stanchion/model"

// settingGroup are the recordings of one setting.
type settingGroup struct {
	row        *model.Row // nil where none was given
	recordings []recording
}

func (g settingGroup) name(t *model.Table) string {
	if g.row == nil {
		return "The car as driven"
	}
	return t.Name(g.row.Setting)
}

func (g settingGroup) id() *string { return settingOf(g.recordings[0]) }

// grouped puts recordings of one setting together, in their order.
func grouped(all []recording) (groups []settingGroup) {
	for _, r := range all {
		if k := groupOf(groups, r); k >= 0 {
			groups[k].recordings = append(groups[k].recordings, r)
			continue
		}
		groups = append(groups, settingGroup{r.row, []recording{r}})
	}
	return groups
}

func groupOf(groups []settingGroup, r recording) int {
	for k, g := range groups {
		if g.row == r.row {
			return k
		}
	}
	return -1
}
