package localname

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/netip"
	"strings"
	"time"
)

// Options say what is answered, and where.
type Options struct {
	Name     string           // as pointsmith.local
	Only     netip.Addr       // the one address to answer with; zero: the network's own
	Networks func() []Network // as they are just now
	Moved    func()           // called when an interface or an address has changed; nil: nobody
	Service  Service
	Log      *slog.Logger

	pace   pace // zero: usual
	answer func(Options, []Network) (io.Closer, error)
}

// A pace is how long things take.
type pace struct {
	look     time.Duration // between two looks at the networks
	again    time.Duration // until a name that does not answer is tried again
	check    time.Duration // between two looks whether it answers, and nobody else does
	probe    time.Duration // between two questions before it is taken; section 8.1
	patience time.Duration // for the own answer, three times
	repeat   time.Duration // until it is told again, and half of the wait after that; section 8.3
}

var usual = pace{look: 2 * time.Second, again: 30 * time.Second, check: time.Minute, probe: 250 * time.Millisecond,
	patience: 700 * time.Millisecond, repeat: time.Second}

// A State is how the name stands.
type State struct {
	Answers bool         // asked for by multicast, it was answered with an address of this machine
	Others  []netip.Addr // of machines that go by the same name; where they were first, Answers is false
	Trouble error        // why nothing answers
}

// ErrNoNetwork is the trouble where no network takes multicast.
var ErrNoNetwork = errors.New("no network of this machine takes multicast")

var errSilent = errors.New("its answer does not come back by multicast")

// String says it in words. The first state of all is for the caller to say;
// later ones are logged.
func (s State) String() string {
	switch {
	case s.Answers && len(s.Others) > 0:
		return "answers, and so does another machine"
	case s.Answers:
		return "answers"
	case len(s.Others) > 0:
		return "is the name of another machine"
	}
	return fmt.Sprintf("does not answer: %v", s.Trouble)
}

// Do says what helps where it is not as it should be.
func (s State) Do() string {
	switch {
	case s.Answers && len(s.Others) > 0:
		return "start one of the two with -name and another name"
	case len(s.Others) > 0:
		return "give this server a name of its own, as -name garage"
	case errors.Is(s.Trouble, ErrNoNetwork):
		return "connect it to a network that does, or have the router keep its address"
	}
	return "see that UDP port 5353 is free and let through by this machine's firewall, or have the router keep its address"
}

// A Responder keeps a name answered. Make it with Begin.
type Responder struct {
	o      Options
	first  chan State    // the first state, once
	ended  chan struct{} // closed when all is over
	now    []Network     // what it answers on, or tried to
	server io.Closer     // nil while it does not answer
	state  State
	due    time.Time        // when it is to be looked at without a change
	retell <-chan time.Time // when the news is to be told again; nil when it is not
	wait   time.Duration    // before that
}

// Begin takes the name and keeps it answered until ctx ends. It stops nothing
// when it cannot; see State.
func Begin(ctx context.Context, o Options) *Responder {
	if o.pace == (pace{}) {
		o.pace = usual
	}
	if o.answer == nil {
		o.answer = answer
	}
	r := &Responder{o: o, first: make(chan State, 1), ended: make(chan struct{})}
	go r.run(ctx)
	return r
}

// First waits until it is known whether the name answers. It is called once.
func (r *Responder) First() State { return <-r.first }

// Wait returns when ctx has ended and the name has been taken back.
func (r *Responder) Wait() { <-r.ended }

func (r *Responder) run(ctx context.Context) {
	defer close(r.ended)
	r.now = r.o.Networks()
	r.settle(ctx)
	r.first <- r.state
	r.announce()
	ticker := time.NewTicker(r.o.pace.look)
	defer ticker.Stop()
	for {
		select {
		case <-ctx.Done():
			r.leave()
			return
		case <-ticker.C:
			r.look(ctx)
		case <-r.retell:
			r.tellAgain()
		}
	}
}

// look settles anew when the networks have changed, or the time has come and
// all is not as it was.
func (r *Responder) look(ctx context.Context) {
	is := r.o.Networks()
	hasChanged := !isSame(is, r.now)
	if !hasChanged && time.Now().Before(r.due) {
		return
	}
	before := r.state
	r.now = is
	if hasChanged && r.o.Moved != nil {
		r.o.Moved()
	}
	if hasChanged || !r.state.Answers || !r.check(ctx) {
		r.settle(ctx)
	}
	if ctx.Err() != nil {
		return
	}
	if hasChanged || before.String() != r.state.String() {
		r.log()
	}
	if hasChanged || !before.Answers {
		r.announce()
	}
}

// settle gives the name up, takes it if nobody else has it, and asks for it.
func (r *Responder) settle(ctx context.Context) {
	r.stop()
	r.retell = nil
	r.state = r.take(ctx)
	if !r.state.Answers {
		r.stop()
	}
	r.due = time.Now().Add(r.o.pace.again)
	if r.state.Answers {
		r.due = time.Now().Add(r.o.pace.check)
	}
}

func (r *Responder) take(ctx context.Context) State {
	if len(r.now) == 0 {
		return State{Trouble: ErrNoNetwork}
	}
	w, err := openWire(r.now)
	if err != nil {
		return State{Trouble: err}
	}
	defer w.close()
	found, err := w.ask(ctx, r.o.Name, 3, r.o.pace.probe, hasOthers)
	if foreign := others(found); len(foreign) > 0 || err != nil {
		return State{Others: foreign, Trouble: err}
	}
	if r.server, err = r.o.answer(r.o, r.now); err != nil {
		r.server = nil
		return State{Trouble: err}
	}
	found, err = w.ask(ctx, r.o.Name, 3, r.o.pace.patience, hasOwn)
	return stateOf(found, err)
}

// check looks whether the name still answers, and who else does.
func (r *Responder) check(ctx context.Context) (stillAnswers bool) {
	w, err := openWire(r.now)
	if err != nil {
		return false
	}
	defer w.close()
	found, err := w.ask(ctx, r.o.Name, 1, r.o.pace.patience, never)
	r.state = stateOf(found, err)
	r.due = time.Now().Add(r.o.pace.check)
	return r.state.Answers
}

// stateOf is how a name stands that is answered here, by what was heard.
func stateOf(found []netip.Addr, err error) State {
	if hasOwn(found) {
		return State{Answers: true, Others: others(found)}
	}
	if err == nil {
		err = errSilent
	}
	return State{Others: others(found), Trouble: err}
}

func never([]netip.Addr) bool { return false }

// announce tells everybody, and twice more for those who missed it or had the
// old address for less than a second, which they then keep.
func (r *Responder) announce() {
	if !r.state.Answers {
		return
	}
	r.tell(nameTTL)
	r.wait = r.o.pace.repeat
	r.retell = time.After(r.wait)
}

func (r *Responder) tellAgain() {
	r.tell(nameTTL)
	r.retell = nil
	if r.wait == r.o.pace.repeat {
		r.wait *= 2
		r.retell = time.After(r.wait)
	}
}

// tell is silent when it fails: who asks is answered all the same.
func (r *Responder) tell(ttl uint32) {
	w, err := openWire(r.now)
	if err != nil {
		return
	}
	defer w.close()
	if err := w.tell(r.o.Name, r.o.Service, ttl); err != nil {
		r.o.Log.Debug("the name was not told to all", "name", r.o.Name, "error", err)
	}
}

// leave takes the name back from all who keep it.
func (r *Responder) leave() {
	if r.server == nil {
		return
	}
	r.stop()
	r.tell(0)
}

func (r *Responder) stop() {
	if r.server == nil {
		return
	}
	if err := r.server.Close(); err != nil {
		r.o.Log.Debug("multicast was not closed", "error", err)
	}
	r.server = nil
}

func (r *Responder) log() {
	var at []string
	for _, n := range r.now {
		for _, a := range n.Addresses {
			at = append(at, a.String())
		}
	}
	words := []any{"at", strings.Join(at, ", ")}
	if len(r.state.Others) > 0 {
		words = append(words, "others", fmt.Sprint(r.state.Others))
	}
	if r.state.Answers && len(r.state.Others) == 0 {
		r.o.Log.Info(r.o.Name+" "+r.state.String(), words...)
		return
	}
	r.o.Log.Warn(r.o.Name+" "+r.state.String(), append(words, "do", r.state.Do())...)
}
