//go:build e2e

package e2e

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// A browser is one Chromium with its own profile, home and log of requests.
type browser struct {
	ctx    context.Context
	pid    int
	isOpen bool
}

var (
	launches    atomic.Int32
	openNow     atomic.Int32
	mostOpen    atomic.Int32
	sharedOne   *browser
	opening     sync.Mutex // of the shared one
	closeShared = func() {
		if sharedOne != nil {
			sharedOne.close()
		}
	}
)

// shared is the browser of all tests that need no profile of their own.
func shared(t testing.TB) *browser {
	t.Helper()
	opening.Lock()
	defer opening.Unlock()
	if sharedOne == nil {
		sharedOne = start(t, filepath.Join(runFolder, "shared"))
	}
	return sharedOne
}

// launch starts a browser that is closed with the test.
func launch(t testing.TB, profile string, more ...chromedp.ExecAllocatorOption) *browser {
	t.Helper()
	b := start(t, profile, more...)
	t.Cleanup(b.close)
	return b
}

func start(t testing.TB, profile string, more ...chromedp.ExecAllocatorOption) *browser {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		t.Fatal("Chromium is not installed; bash .ci/check installs it")
	}
	home := filepath.Join(profile, "home")
	if err := os.MkdirAll(home, 0o700); err != nil {
		t.Fatal(err)
	}
	b := &browser{isOpen: true}
	allocator, _ := chromedp.NewExecAllocator(context.Background(),
		append(append(chromedp.DefaultExecAllocatorOptions[:],
			chromedp.ExecPath(path), chromedp.UserDataDir(profile), chromedp.NoSandbox, chromedp.DisableGPU,
			chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
			chromedp.Flag("disable-features",
				"Translate,OptimizationHints,MediaRouter,AutofillServerCommunication,NetworkTimeServiceQuerying"),
			chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"), // no name leads anywhere
			chromedp.Flag("log-net-log", filepath.Join(runFolder, fmt.Sprintf("requests-%d.json", launches.Add(1)))),
			chromedp.Env("HOME="+home, "TMPDIR="+runFolder, "LANG=en_GB.UTF-8"),
			chromedp.ModifyCmdFunc(func(cmd *exec.Cmd) {
				cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
			})), more...)...)
	b.ctx, _ = chromedp.NewContext(allocator)
	if err := chromedp.Do(b.ctx); err != nil { // the first step must have no time limit: it would be the browser's
		t.Fatalf("start Chromium: %v", err)
	}
	b.pid = chromedp.FromContext(b.ctx).Browser.Process().Pid
	mostOpen.Store(max(mostOpen.Load(), openNow.Add(1)))
	return b
}

// close ends the browser as its own menu would.
func (b *browser) close() {
	if !b.isOpen {
		return
	}
	b.isOpen = false
	openNow.Add(-1)
	limited, cancel := context.WithTimeout(b.ctx, 10*time.Second)
	defer cancel()
	_ = chromedp.Cancel(limited)
	_ = syscall.Kill(-b.pid, syscall.SIGKILL)
}

// kill is a dead battery: nothing gets to say goodbye.
func (b *browser) kill(t testing.TB, profile string) {
	t.Helper()
	b.isOpen = false
	openNow.Add(-1)
	_ = syscall.Kill(-b.pid, syscall.SIGKILL)
	until(t, "the browser is dead", func() bool { return len(processesOf("--user-data-dir="+profile)) == 0 })
	<-b.ctx.Done()
}

// phone opens a page of 390 by 844 with touch, in the browser's own profile.
func (b *browser) phone(t testing.TB, origin string) *page {
	t.Helper()
	return newPage(t, b.ctx, origin)
}

// visitor opens a phone that shares nothing with other visitors but the browser.
func (b *browser) visitor(t testing.TB, origin string) *page {
	t.Helper()
	ctx, cancel := chromedp.NewContext(b.ctx, chromedp.WithNewBrowserContext())
	t.Cleanup(cancel)
	p := newPage(t, ctx, origin)
	p.scale = 1 // three times fewer pixels a side to draw, and the same layout
	p.size(390, 844)
	return p
}

// tab opens another page on the same phone.
func (p *page) tab() *page {
	p.t.Helper()
	ctx, cancel := chromedp.NewContext(p.ctx)
	p.t.Cleanup(cancel)
	tab := newPage(p.t, ctx, p.origin)
	tab.scale = p.scale
	tab.size(390, 844)
	return tab
}

func newPage(t testing.TB, ctx context.Context, origin string) *page {
	t.Helper()
	p := &page{t: t, ctx: ctx, origin: origin, watch: newWatch(origin), scale: 3}
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Listen(ctx, p.watch.note); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	p.size(390, 844)
	if _, err := chromedp.Call(ctx, emulation.SetFocusEmulationEnabled,
		emulation.SetFocusEmulationEnabledParams{Enabled: true}); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { p.watch.report(t) })
	return p
}

// size makes the screen another one, in CSS pixels.
func (p *page) size(width, height int64) {
	p.t.Helper()
	p.do(chromedp.EmulateViewport(width, height, chromedp.EmulateScale(p.scale), chromedp.EmulateMobile,
		chromedp.EmulateTouch))
}
