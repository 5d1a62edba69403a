//go:build linux

package localname

import (
	"testing"
	"time"

	"pointsmith/cmd/internal/lan"
)

// The client asks only while it holds no address, so the second one reached it
// because it was told; the first would have held for two minutes.
func TestTheNameGoesOnAtAnotherAddress(t *testing.T) {
	garage, phone := lan.GarageAndPhone(t)
	server := start(t, garage, usualOne)
	client := phone.Look("name", "garage.local")
	server.says("first answers")
	client.Has("held 192.168.77.20", 20*time.Second)
	garage.Move("192.168.77.31/24")
	client.Has("held 192.168.77.31", 20*time.Second)
	server.says(`msg="garage.local answers" at="192.168.77.31`)
	phone.Look("name", "GARAGE.local").Has("held 192.168.77.31", 20*time.Second)
	server.end()
	server.says("left")
	client.Has("held", 20*time.Second) // taken back, not left to grow old
}

func TestAnInterfaceMayGoAndCome(t *testing.T) {
	garage, phone := lan.GarageAndPhone(t)
	server := start(t, garage, usualOne)
	server.says("first answers")
	garage.Run("ip", "link", "delete", lan.Interface)
	server.says("does not answer: no network of this machine takes multicast")
	garage.Connect(phone)
	garage.Move("192.168.78.20/24")
	phone.Move("192.168.78.40/24")
	phone.Look("name", "garage.local").Has("held 192.168.78.20", 20*time.Second)
	server.says(`msg="garage.local answers" at="192.168.78.20`)
}

// A cable that is pulled is not an interface that is gone.
func TestWhatFailsLaterIsSaid(t *testing.T) {
	garage, phone := lan.GarageAndPhone(t)
	server := start(t, garage, usualOne)
	server.says("first answers")
	garage.Run("ip", "link", "set", lan.Interface, "down")
	server.says("does not answer: nothing can be sent by multicast")
	server.says(`do="see that UDP port 5353 is free`)
	garage.Run("ip", "link", "set", lan.Interface, "up")
	server.says(`msg="garage.local answers"`)
	phone.Look("name", "garage.local").Has("held 192.168.77.20", 20*time.Second)
}

// Who comes second stays silent, and goes on when the first is gone.
func TestANameThatAnotherHasIsLeftToIt(t *testing.T) {
	first, second := lan.GarageAndPhone(t)
	one := start(t, first, usualOne)
	one.says("first answers")
	two := start(t, second, usualOne)
	two.says("first is the name of another machine [192.168.77.20")
	second.Look("name", "garage.local").Has("held 192.168.77.20", 20*time.Second)
	one.end()
	two.says(`msg="garage.local answers" at="192.168.77.40`)
	first.Look("name", "garage.local").Has("held 192.168.77.40", 20*time.Second)
}

// One that answers without asking, or two networks that become one, are found
// by the look every so often. Both go on, and it is said.
func TestAnotherThatComesLaterIsSaid(t *testing.T) {
	first, second := lan.GarageAndPhone(t)
	one := start(t, first, usualOne)
	one.says("first answers []")
	start(t, second, rude).says("it answers")
	one.says(`level=WARN msg="garage.local answers, and so does another machine"`)
	one.says("others=[192.168.77.40")
}

// RFC 6762, section 6: an answer from another port is none.
func TestAnAnswerFromElsewhereIsNone(t *testing.T) {
	garage, phone := lan.GarageAndPhone(t)
	impostor := start(t, phone, wrongWay)
	start(t, garage, usualOne).says("first answers []")
	impostor.says("it says so <nil>")
}

// A responder of the operating system on the same port, and another garage of
// the same machine, are no strangers.
func TestOneMachineMayAnswerTwice(t *testing.T) {
	garage, phone := lan.GarageAndPhone(t)
	start(t, garage, usualOne).says("first answers []")
	start(t, garage, usualOne).says("first answers []")
	phone.Look("name", "garage.local").Has("held 192.168.77.20", 20*time.Second)
}

func TestWhatKeepsItFromAnsweringIsSaid(t *testing.T) {
	garage, _ := lan.GarageAndPhone(t)
	kept := start(t, garage, keepPort)
	kept.says("first does not answer: another program keeps UDP port 5353 to itself")
	kept.end()
	start(t, garage, silent).says("first does not answer: its answer does not come back by multicast")
}

func TestTheServiceIsOffered(t *testing.T) {
	garage, phone := lan.GarageAndPhone(t)
	server := start(t, garage, usualOne)
	client := phone.Look("service", "_https._tcp.local")
	server.says("first answers")
	client.Has("found garage._https._tcp.local. garage.local. 7373 192.168.77.20", 20*time.Second)
	server.end()
	client.Has("gone garage._https._tcp.local.", 20*time.Second)
}
