package webdriver

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"sync"
	"syscall"
	"time"
)

// output collects what processes write out.
type output struct {
	mu   sync.Mutex
	text bytes.Buffer
}

// Write takes the next piece.
func (o *output) Write(piece []byte) (int, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.text.Write(piece)
}

// String gives all so far.
func (o *output) String() string {
	o.mu.Lock()
	defer o.mu.Unlock()
	return o.text.String()
}

// A process is a program with its children, which die with this one.
type process struct {
	cmd   *exec.Cmd
	ended chan struct{}
}

func run(cmd *exec.Cmd) (*process, error) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGKILL}
	cmd.WaitDelay = 2 * time.Second // chosen: a grandchild may hold the pipes
	p := &process{cmd: cmd, ended: make(chan struct{})}
	started := make(chan error)
	go func() {
		runtime.LockOSThread() // the death signal hangs on the thread that started the process
		err := cmd.Start()
		started <- err
		if err == nil {
			_ = cmd.Wait()
		}
		close(p.ended)
	}()
	return p, <-started
}

// stop waits a while for the process to end by itself, then kills all of it.
func (p *process) stop(patience time.Duration) {
	select {
	case <-p.ended:
	case <-time.After(patience):
	}
	_ = syscall.Kill(-p.cmd.Process.Pid, syscall.SIGKILL)
	<-p.ended
}

// waitFor asks again and again until there is an answer, the process has
// ended, or patience has.
func (p *process) waitFor(what string, isThere func() bool) error {
	for deadline := time.Now().Add(patience); time.Now().Before(deadline); time.Sleep(20 * time.Millisecond) { // chosen
		if isThere() {
			return nil
		}
		select {
		case <-p.ended:
			return fmt.Errorf("%s ended before %s", p.cmd.Path, what)
		default:
		}
	}
	return fmt.Errorf("waited %v in vain until %s", patience, what)
}

// surroundings are the environment of a browser whose home is a folder.
func surroundings(folder string, more ...string) []string {
	return append(append(os.Environ(), "HOME="+folder, "XDG_DATA_HOME="+folder+"/data",
		"XDG_CACHE_HOME="+folder+"/cache",
		"XDG_CONFIG_HOME="+folder+"/config", "LANG=C.UTF-8"), more...)
}
