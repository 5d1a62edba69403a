package refuse

import (
	"strings"
	"testing"
)

func TestARefusalIsOneLineWithFieldLimitAndNextStep(t *testing.T) {
	got := Input("rpm", "0 is\ntoo small", "more than 0", "check the figure").Error()
	if got != "rpm: 0 is too small; limit: more than 0; do: check the figure" || strings.Contains(got, "\n") {
		t.Errorf("%q", got)
	}
}

func TestUnderPutsThePathInFront(t *testing.T) {
	for field, want := range map[string]string{"": "spec", "points[1].rpm": "spec.points[1].rpm",
		"[2].rpm": "spec[2].rpm"} {
		if got := Input(field, "", "", "").Under("spec").Field; got != want {
			t.Errorf("%q under spec is %q, want %q", field, got, want)
		}
	}
	original := Input("rpm", "", "", "")
	if original.Under("a"); original.Field != "rpm" {
		t.Error("Under changed the original")
	}
}
