//go:build e2e

package e2e

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
)

// A watch notes everything on a page that should not be.
type watch struct {
	origin   string
	mu       sync.Mutex
	asked    map[network.RequestID]string
	troubles []string
	requests int
	expected []*regexp.Regexp
}

func newWatch(origin string) *watch {
	return &watch{origin: origin, asked: map[network.RequestID]string{}}
}

// note hears every event of the page.
func (w *watch) note(event any) {
	w.mu.Lock()
	defer w.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		if e.Type == "error" || e.Type == "warning" || e.Type == "assert" {
			w.trouble("console: %s", textOf(e.Args))
		}
	case *runtime.EventExceptionThrown:
		w.trouble("exception: %s %+v", e.ExceptionDetails.Text, e.ExceptionDetails.Exception)
	case *log.EventEntryAdded:
		if e.Entry.Level == "error" || e.Entry.Level == "warning" {
			w.trouble("log: %s %s", e.Entry.Text, e.Entry.URL)
		}
	case *network.EventRequestWillBeSent:
		w.requests++
		w.asked[e.RequestID] = e.Request.URL
		if !strings.HasPrefix(e.Request.URL, w.origin+"/") && !strings.HasPrefix(e.Request.URL, "blob:"+w.origin+"/") &&
			!strings.HasPrefix(e.Request.URL, "data:") {
			w.trouble("a request left the origin: %s", e.Request.URL)
		}
	case *network.EventLoadingFailed:
		if !e.Canceled {
			w.trouble("failed: %s %s", w.asked[e.RequestID], e.ErrorText)
		}
	case *network.EventResponseReceived:
		if e.Response.Status >= 400 {
			w.trouble("failed: %s %d", e.Response.URL, e.Response.Status)
		}
	}
}

func (w *watch) trouble(format string, args ...any) {
	w.troubles = append(w.troubles, fmt.Sprintf(format, args...))
}

func textOf(args []*runtime.RemoteObject) string {
	var parts []string
	for _, a := range args {
		parts = append(parts, strings.TrimSpace(string(a.Value)+" "+a.Description))
	}
	return strings.Join(parts, " ")
}

// expect says what trouble the test makes on purpose.
func (w *watch) expect(pattern string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.expected = append(w.expected, regexp.MustCompile(pattern))
}

// expectNoServer: what a page says when nothing answers. Only the garage's
// exchange and the look for a new version may be asked for then.
func (w *watch) expectNoServer() {
	w.expect(`(ERR_CONNECTION_REFUSED|ERR_EMPTY_RESPONSE|ERR_CONNECTION_RESET|ERR_SOCKET_NOT_CONNECTED)`)
}

func (w *watch) report(t testing.TB) {
	t.Helper()
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, trouble := range w.troubles {
		isExpected := false
		for _, pattern := range w.expected {
			isExpected = isExpected || pattern.MatchString(trouble)
		}
		if !isExpected {
			t.Errorf("on the page: %s", trouble)
		}
	}
}
