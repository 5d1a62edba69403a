// Package localname answers multicast DNS (RFC 6762) for one name under
// .local on the networks a server is on, so that a phone finds the server by
// the same name whatever address the router gives it. To a browser another
// address is another place, with an empty store; the name is always the same.
//
// Questions are answered by github.com/pion/mdns/v2, which also offers the
// server as a service (RFC 6763). What the library leaves out is here:
//
//   - Before the name is taken, it is asked for (section 8.1). When another
//     machine answers, this one stays silent and says so. It takes no other
//     name by itself: a name that depends on who came first is not one for
//     ever. It asks again every half minute, and goes on when the other is gone.
//   - Once taken, it is asked for from another socket. Only when the answer
//     has come by multicast the name counts as answering. What lies between
//     here and a phone, as a router that keeps its guests apart, cannot be
//     seen from here.
//   - When an interface comes, goes or has another address, the name is told
//     anew to everybody, with the bit that makes them forget the old address
//     (section 10.2), and when the server ends it is taken back (section 10.1).
//
// An interface is asked about over IPv4 only. Where it has IPv6 beside that,
// the name is answered there too. A machine that takes the name later without
// asking for addresses, only for ANY, gets no answer from the library; the look
// every minute finds it, and then both are said to go by the name.
package localname
