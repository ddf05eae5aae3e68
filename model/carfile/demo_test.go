package carfile

import "testing"

func TestDemosLoad(t *testing.T) {
	if n := len(Demos()); n < 3 {
		t.Fatalf("%d demo cars, want at least 3", n)
	}
	for _, name := range Demos() {
		car, err := Demo(name)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		table, err := car.Map(car.Speed)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		within := 0
		for i := range table.Rows {
			if table.Rows[i].Within() {
				within++
			}
		}
		t.Logf("%s: %d settings, %d within, warnings %q", name, len(table.Rows), within, car.Warnings)
		if within == 0 {
			t.Errorf("%s: no setting within its limits", name)
		}
	}
}

func TestStartIsValid(t *testing.T) {
	car, err := Parse("start.toml", Start(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if table, err := car.Map(car.Speed); err != nil || len(table.Rows) != 4 {
		t.Errorf("%v, want 4 settings: 2 at the foot, 2 at the head", err)
	}
}
