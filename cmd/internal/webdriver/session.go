package webdriver

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"strings"
	"time"
)

// A Session is one browser with one window that is driven.
type Session struct {
	wire wire
	said *output
	end  func() error
}

// A wire carries commands to a browser and brings back what the standard
// calls the value of the answer.
type wire interface {
	call(c command, arguments map[string]any) (json.RawMessage, error)
}

// A command of the standard: as HTTP, and by the name Firefox has for it.
type command struct{ method, path, name string }

var (
	navigate     = command{"POST", "/url", "WebDriver:Navigate"}
	execute      = command{"POST", "/execute/async", "WebDriver:ExecuteAsyncScript"}
	elementClick = command{"POST", "/element/{id}/click", "WebDriver:ElementClick"}
	elementKeys  = command{"POST", "/element/{id}/value", "WebDriver:ElementSendKeys"}
	elementRole  = command{"GET", "/element/{id}/computedrole", "WebDriver:GetComputedRole"}
	elementLabel = command{"GET", "/element/{id}/computedlabel", "WebDriver:GetComputedLabel"}
	setTimeouts  = command{"POST", "/timeouts", "WebDriver:SetTimeouts"}
	setRect      = command{"POST", "/window/rect", "WebDriver:SetWindowRect"}
	newWindow    = command{"POST", "/window/new", "WebDriver:NewWindow"}
	goToWindow   = command{"POST", "/window", "WebDriver:SwitchToWindow"}
	thisWindow   = command{"GET", "/window", "WebDriver:GetWindowHandle"}
	closeWindow  = command{"DELETE", "/window", "WebDriver:CloseWindow"}
	printPage    = command{"POST", "/print", "WebDriver:Print"}
)

// An Error is a browser's refusal of a command.
type Error struct {
	Code    string `json:"error"` // of the standard, "stale element reference"
	Message string `json:"message"`
}

// Error gives the code and the message.
func (e *Error) Error() string { return e.Code + ": " + e.Message }

// An Element is a reference to one element of the page that is shown.
type Element map[string]string

// elementKey is the name the standard gives to a reference.
const elementKey = "element-6066-11e4-a52e-4f735466cecf"

func (e Element) id() string { return e[elementKey] }

// patience is how long a page or a script may take: tests wait for less.
const patience = 30 * time.Second

// begin gives a new session its time limits and size.
func (s *Session) begin(width, height int) error {
	limit := patience.Milliseconds()
	if _, err := s.wire.call(setTimeouts, map[string]any{"script": limit, "pageLoad": limit}); err != nil {
		return err
	}
	_, err := s.wire.call(setRect, map[string]any{"width": width, "height": height})
	return err
}

// Go opens an address.
func (s *Session) Go(address string) error {
	_, err := s.wire.call(navigate, map[string]any{"url": address})
	return err
}

// Reload loads the page anew, as a person does: the standard's own command
// goes past the service worker in Firefox, as a reload with Shift does.
func (s *Session) Reload() error {
	var isAsked bool
	if err := s.Value(&isAsked, "(window.isLeft = true, setTimeout(() => location.reload()), true)"); err != nil {
		return err
	}
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(20 * time.Millisecond) { // chosen
		var isThere bool
		if err := s.Value(&isThere, `!window.isLeft && document.readyState === "complete"`); err == nil && isThere {
			return nil
		}
	}
	return fmt.Errorf("the page was not loaded anew in %v", patience)
}

// Value puts the value of a script's expression, or of the promise that it
// gives, into what into points at. In the expression, arguments are at the
// arguments of that name.
func (s *Session) Value(into any, expression string, arguments ...any) error {
	script := `const told = arguments[arguments.length - 1], given = [...arguments].slice(0, -1);
		(async (...args) => (` + expression +
		`))(...given).then((value) => told({value: value ?? null}), (error) => told({error: String(error)}));`
	if arguments == nil {
		arguments = []any{}
	}
	answer, err := s.wire.call(execute, map[string]any{"script": script, "args": arguments})
	if err != nil {
		return err
	}
	var out struct {
		Value json.RawMessage
		Error string
	}
	if err := json.Unmarshal(answer, &out); err != nil {
		return fmt.Errorf("a script answered %.200s: %w", answer, err)
	}
	if out.Error != "" {
		return &Error{"javascript error", out.Error}
	}
	return json.Unmarshal(out.Value, into)
}

// Click brings an element into view and clicks it. It is refused when
// something lies over the element.
func (s *Session) Click(e Element) error {
	_, err := s.wire.call(elementClick, map[string]any{"id": e.id()})
	return err
}

// Type presses keys in a field, behind what stands in it.
func (s *Session) Type(e Element, keys string) error {
	_, err := s.wire.call(elementKeys, map[string]any{"id": e.id(), "text": keys})
	return err
}

// Role gives the role that a screen reader hears.
func (s *Session) Role(e Element) (string, error) { return s.about(elementRole, e) }

// Label gives the name that a screen reader hears.
func (s *Session) Label(e Element) (string, error) { return s.about(elementLabel, e) }

func (s *Session) about(what command, e Element) (text string, err error) {
	answer, err := s.wire.call(what, map[string]any{"id": e.id()})
	if err != nil {
		return "", err
	}
	err = json.Unmarshal(answer, &text)
	return strings.Join(strings.Fields(text), " "), err
}

// Anew closes the page and opens an empty one in its place.
func (s *Session) Anew() error {
	if _, err := s.wire.call(thisWindow, nil); err != nil {
		return err
	}
	answer, err := s.wire.call(newWindow, map[string]any{"type": "tab"})
	if err != nil {
		return err
	}
	var made struct{ Handle string }
	if err := json.Unmarshal(answer, &made); err != nil {
		return err
	}
	if _, err := s.wire.call(closeWindow, nil); err != nil {
		return err
	}
	_, err = s.wire.call(goToWindow, map[string]any{"handle": made.Handle})
	return err
}

// Print gives the page as it is printed on A4, as PDF. WebKitGTK cannot.
func (s *Session) Print() ([]byte, error) {
	answer, err := s.wire.call(printPage, map[string]any{
		// ISO 216; margins chosen; cm
		"page":   map[string]float64{"width": 21, "height": 29.7},
		"margin": map[string]float64{"top": 1, "bottom": 1, "left": 1, "right": 1}})
	if err != nil {
		return nil, err
	}
	var text string
	if err := json.Unmarshal(answer, &text); err != nil {
		return nil, err
	}
	return base64.StdEncoding.DecodeString(text)
}

// Said gives what the browser has written out, its console among it.
func (s *Session) Said() string { return s.said.String() }

// Close ends the browser as its own menu would, and then whatever is left.
func (s *Session) Close() error { return s.end() }
