//go:build linux

package lan

import (
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"syscall"
	"testing"
	"time"
)

// hold starts a process that waits on its input, and so lives as long as this
// one; its namespaces are the host.
func hold(t *testing.T, namespaces uintptr, name string, args ...string) (process int, err error) {
	cmd := exec.Command(name, args...)
	attributes := &syscall.SysProcAttr{Cloneflags: namespaces, Pdeathsig: syscall.SIGKILL}
	if namespaces&syscall.CLONE_NEWUSER != 0 {
		attributes.UidMappings = []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}}
		attributes.GidMappings = []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}}
	}
	cmd.SysProcAttr = attributes
	input, err := cmd.StdinPipe()
	if err != nil {
		return 0, err
	}
	started, ended := make(chan error), make(chan struct{})
	go func() {
		runtime.LockOSThread() // the death signal hangs on the thread that started the process
		defer runtime.UnlockOSThread()
		err := cmd.Start()
		started <- err
		if err == nil {
			_ = cmd.Wait()
		}
		close(ended)
	}()
	if err := <-started; err != nil {
		return 0, err
	}
	t.Cleanup(func() {
		_ = input.Close()
		<-ended
	})
	return cmd.Process.Pid, nil
}

// network says which network namespace the host is.
func (h Host) network() string {
	name, err := os.Readlink(fmt.Sprintf("/proc/%d/ns/net", h.holder))
	if err != nil {
		return ""
	}
	return name
}

func until(t *testing.T, what string, is func() bool) {
	t.Helper()
	for deadline := time.Now().Add(10 * time.Second); !is(); time.Sleep(10 * time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatalf("not so after ten seconds: %s", what)
		}
	}
}
