//go:build linux

package lan

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"
)

// Interface is the name of the cable's end in each host. The server takes
// interfaces that are called as bridges within a machine for no network.
const Interface = "lan0"

// A Host is one of the two.
type Host struct {
	t      *testing.T
	holder int  // process whose namespaces these are
	isUser bool // they belong to a user namespace of its own
}

// Two makes two hosts with a cable between them and no addresses.
func Two(t *testing.T) (a, b Host) {
	t.Helper()
	a = Host{t: t, isUser: false}
	holder, err := hold(t, syscall.CLONE_NEWNET, "cat")
	if err != nil {
		a.isUser = true
		var again error
		if holder, again = hold(t, syscall.CLONE_NEWNET|syscall.CLONE_NEWUSER, "cat"); again != nil {
			t.Fatalf("no network namespace can be made here (%v; in a user namespace: %v); this test must not be left out: run it as root, or in a container that has CAP_SYS_ADMIN and CAP_NET_ADMIN", err, again)
		}
	}
	a.holder = holder
	b = a
	inside := a.arguments("unshare", "--net", "cat")
	if b.holder, err = hold(t, 0, inside[0], inside[1:]...); err != nil {
		t.Fatalf("the second network namespace: %v", err)
	}
	until(t, "the second host is apart", func() bool {
		return b.network() != a.network() && b.network() != Host{holder: os.Getpid()}.network()
	})
	for _, h := range []Host{a, b} {
		h.Run("ip", "link", "set", "lo", "up")
	}
	a.Connect(b)
	return a, b
}

// Connect lays the cable.
func (h Host) Connect(to Host) {
	h.t.Helper()
	h.Run("ip", "link", "add", Interface, "type", "veth", "peer", "name", Interface, "netns", fmt.Sprint(to.holder))
	for _, end := range []Host{h, to} {
		end.Run("ip", "link", "set", Interface, "up")
	}
}

// Move gives the host an address in place of the one it had.
func (h Host) Move(address string) {
	h.t.Helper()
	h.Run("ip", "-4", "address", "flush", "dev", Interface)
	h.Run("ip", "address", "add", address, "dev", Interface)
}

// Command is a command on that host. Whoever starts it ends it; it is killed
// with the thread that started it.
func (h Host) Command(name string, args ...string) *exec.Cmd {
	whole := h.arguments(append([]string{name}, args...)...)
	cmd := exec.Command(whole[0], whole[1:]...)
	cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
	return cmd
}

// Run runs a command on that host, which must succeed.
func (h Host) Run(name string, args ...string) string {
	h.t.Helper()
	out, err := h.Command(name, args...).CombinedOutput()
	if err != nil {
		h.t.Fatalf("%s %s: %v: %s", name, strings.Join(args, " "), err, out)
	}
	return string(out)
}

func (h Host) arguments(command ...string) []string {
	whole := []string{"nsenter", "--target", fmt.Sprint(h.holder), "--net"}
	if h.isUser {
		whole = append(whole, "--user", "--preserve-credentials")
	}
	return append(append(whole, "--"), command...)
}

// GarageAndPhone are two hosts with an address each. The test runs beside others: each pair has a network of its own,
// and waits most of the time.
func GarageAndPhone(t *testing.T) (garage, phone Host) {
	t.Helper()
	t.Parallel()
	garage, phone = Two(t)
	garage.Move("192.168.77.20/24")
	phone.Move("192.168.77.40/24")
	return garage, phone
}
