package store_test

import (
	"encoding/json"
	"os"
	"reflect"
	"testing"

	"pointsmith/store"
)

// The phone of these tests keeps what the app's merge.js keeps: both are held
// to the list "phone" of the cases. Without it the tests of sync would prove
// something about a phone that nobody has.
func TestThePhoneOfTheTestsIsTheApps(t *testing.T) {
	text, err := os.ReadFile("../testdata/merge/cases.json")
	if err != nil {
		t.Fatal(err)
	}
	var all struct {
		Phone []struct {
			Name                 string
			Now, Pushed, Becomes store.Document
			Answer               struct {
				Revision string
				Document *store.Document
			}
			Waits bool
		}
	}
	if err := json.Unmarshal(text, &all); err != nil || len(all.Phone) == 0 {
		t.Fatalf("%d cases: %v", len(all.Phone), err)
	}
	for _, c := range all.Phone {
		t.Run(c.Name, func(t *testing.T) {
			p := phone{docs: map[string]*held{keyOf(c.Now.Kind, c.Now.ID): {Document: c.Now, waits: true}}}
			p.answered(&store.Change{Base: c.Pushed.Revision, ChangedAt: c.Pushed.ChangedAt, Deleted: c.Pushed.Deleted,
				Body: c.Pushed.Body},
				store.Answer{Revision: c.Answer.Revision, Document: c.Answer.Document})
			got := p.docs[keyOf(c.Now.Kind, c.Now.ID)]
			if !reflect.DeepEqual(got.Document, c.Becomes) || got.waits != c.Waits {
				t.Errorf("got %+v, waits %v; want %+v, waits %v", got.Document, got.waits, c.Becomes, c.Waits)
			}
		})
	}
}
