// Package lan makes a network of two hosts for a test: two network namespaces
// of Linux, joined by a cable, with nothing of the machine's own network in
// them. It wants ip (iproute2) and nsenter and unshare (util-linux), and the
// right to make namespaces: root's, or that of a user who may make user
// namespaces. A test that does not get them fails. Each host lives as long as
// a process that ends with the test, however that ends.
package lan
