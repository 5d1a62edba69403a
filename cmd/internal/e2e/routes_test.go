//go:build e2e

package e2e

// A screen is one address of the app and something to read there once it is
// whole.
type screen struct {
	name, hash, ready string
	isWorking         bool // used with gloves on
}

// screens lists every page, for the demo car, with a set of readings begun.
func screens(p *page, car string) []screen {
	p.t.Helper()
	p.open(car + "/readings")
	p.tap("button", "Measure on the car, by strobe")
	p.sees("How they are read")
	start := p.hash()
	p.open(car + "/readings")
	p.tap("button", "Measure on the bench")
	p.tap("button", "I have read the caution: begin")
	p.sees("Hold 300")
	keypad(p, "3.5")
	p.tap("button", "Save reading")
	p.sees("1 reading saved")
	entry := p.hash()
	p.open(car + "/call")
	p.tap("button", "We have read the caution: begin")
	p.sees("Hold, rising")
	calling := p.hash()
	return []screen{
		{"garage", "#/", "Add a car", false},
		{"car", car, "What is written down", true},
		{"facts", car + "/facts", "Type number on the distributor", true},
		{"book", car + "/book", "reads without trouble", true},
		{"readings", car + "/readings", "Taken so far", true},
		{"start", start, "How they are read", true},
		{"entry", entry, "1 reading saved", true},
		{"call", car + "/call", "says what to hold", true},
		{"calling", calling, "Hold, rising", true},
		{"verdict", car + "/verdict", "The repair", true},
		{"what-if", car + "/what-if", "As found and as changed", true},
		{"strobe", car + "/strobe", "your idle", true},
		{"settings", "#/settings", "Let in. Devices", false},
		{"help", "#/help", "Before anything turns", false},
		{"roadside", "#/roadside", "Six minutes", true},
		{"lost", "#/nowhere", "leads nowhere", false},
	}
}

func (p *page) goes(to screen) {
	p.t.Helper()
	p.open(to.hash)
	p.sees(to.ready)
	until(p.t, to.name+" has worked everything out", func() bool {
		return eval[bool](p, `!document.querySelector("[aria-busy=true]")`)
	})
}
