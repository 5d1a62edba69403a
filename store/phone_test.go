package store_test

import (
	"encoding/json"
	"maps"
	"slices"
	"time"

	"pointsmith/store"
)

// A phone is the phone's side of sync as pwa/app/js/kept/sync.js and merge.js
// have it: it pushes what waits, with the revision it was edited from; it
// remembers the push under way until that very push has been answered; it
// takes what the server answers, and leaves alone what was edited meanwhile.
type phone struct {
	name    string
	skew    time.Duration
	docs    map[string]*held
	sending *store.Change // pushed and not answered yet
	place   store.Place
	compare *comparison
}

// A held document and whether it waits to be pushed.
type held struct {
	store.Document
	waits bool
}

// A comparison runs through all pages of a feed that asked for one.
type comparison struct {
	why    string
	listed map[string]string // revision by key
}

func keyOf(kind, id string) string { return kind + "/" + id }

// next gives the push to send: the one under way, or else the first that waits.
func (p *phone) next() *store.Change {
	if p.sending != nil {
		return p.sending
	}
	for _, key := range slices.Sorted(maps.Keys(p.docs)) {
		if h := p.docs[key]; h.waits {
			p.sending = &store.Change{Kind: h.Kind, ID: h.ID, Base: h.Revision, ChangedAt: h.ChangedAt, Device: p.name,
				Deleted: h.Deleted, Body: slices.Clone(h.Body)}
			return p.sending
		}
	}
	return nil
}

// answered is afterPush of merge.js.
func (p *phone) answered(sent *store.Change, a store.Answer) {
	p.sending = nil
	h := p.docs[keyOf(sent.Kind, sent.ID)]
	switch {
	case h.Revision != sent.Base: // it has moved on since
	case !h.ChangedAt.Equal(sent.ChangedAt): // edited meanwhile: from what was sent
		h.Revision = a.Revision
	case a.Document != nil:
		p.take(*a.Document)
	default:
		h.Revision, h.waits = a.Revision, false
	}
}

// take is what the phone does with a version of the server. A deletion carries
// no body; the phone's own stays, to be brought back.
func (p *phone) take(d store.Document) {
	key := keyOf(d.Kind, d.ID)
	if old := p.docs[key]; d.Deleted && old != nil {
		d.Body = old.Body
	}
	p.docs[key] = &held{Document: d}
}

// page is pull of sync.js, for one page.
func (p *phone) page(f store.Feed) {
	if f.Compare != "" {
		p.compare = &comparison{f.Compare, map[string]string{}}
	}
	for _, d := range f.Documents {
		p.receive(d)
	}
	p.place = store.Place{Cursor: f.Cursor, Garage: f.Garage}
	if p.compare != nil && !f.More {
		p.compared()
	}
}

func (p *phone) receive(d store.Document) {
	key := keyOf(d.Kind, d.ID)
	h := p.docs[key]
	if p.compare != nil {
		p.compare.listed[key] = d.Revision
	}
	switch {
	case h != nil && h.waits, h != nil && h.Revision == d.Revision && h.Deleted == d.Deleted:
	case h != nil && !h.Deleted && p.compare != nil && p.compare.why == store.CompareOther:
		h.waits = true // ours may be what that file has lost: the push brings the two together
	default:
		p.take(d)
	}
}

// compared settles what was not listed.
func (p *phone) compared() {
	for key, h := range p.docs {
		if _, isListed := p.compare.listed[key]; isListed || h.waits || h.Deleted {
			continue
		}
		if p.compare.why == store.CompareForgotten {
			h.Deleted = true
		} else {
			h.waits = true
		}
	}
	p.compare = nil
}

// edit changes a document as the phone has it and stamps it with its clock.
func (p *phone) edit(kind, id string, now time.Time, change func(b *body)) {
	key := keyOf(kind, id)
	h := p.docs[key]
	if h == nil {
		h = &held{Document: store.Document{Kind: kind, ID: id, Body: json.RawMessage(`{}`)}}
		p.docs[key] = h
	}
	b := readBody(h.Body)
	change(&b)
	h.Body, h.Deleted = b.json(), false
	p.stamp(h, now)
}

// stamp is later() of garage.js: never before the last change.
func (p *phone) stamp(h *held, now time.Time) {
	at := now.Add(p.skew)
	if last := h.ChangedAt.Add(time.Millisecond); at.Before(last) {
		at = last
	}
	h.ChangedAt, h.waits = at, true
}

// A body is a car or a visit, as far as the model goes.
type body struct {
	Name  string               `json:"name,omitempty"`
	Notes string               `json:"notes,omitempty"`
	Facts map[string]modelFact `json:"facts,omitempty"`
	Sets  []modelSet           `json:"sets,omitempty"`
}

type modelFact struct {
	Value string `json:"value"`
}

type modelSet struct {
	ID       string         `json:"id"`
	Place    string         `json:"place"`
	Readings []modelReading `json:"readings"`
	Removed  bool           `json:"removed,omitempty"`
}

type modelReading struct {
	ID      string `json:"id"`
	Deg     string `json:"deg"`
	Removed bool   `json:"removed,omitempty"`
}

func readBody(raw json.RawMessage) (b body) {
	if err := json.Unmarshal(raw, &b); err != nil {
		panic(err)
	}
	return b
}

func (b body) json() json.RawMessage {
	raw, err := json.Marshal(b)
	if err != nil {
		panic(err)
	}
	return raw
}

// values lists everything typed in a body.
func (b body) values() []string {
	all := []string{b.Name, b.Notes}
	for _, f := range b.Facts {
		all = append(all, f.Value)
	}
	for _, s := range b.Sets {
		all = append(all, s.Place)
		for _, r := range s.Readings {
			all = append(all, r.Deg)
		}
	}
	return slices.DeleteFunc(all, func(v string) bool { return v == "" })
}
