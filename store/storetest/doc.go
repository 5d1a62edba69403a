// Package storetest opens stores for tests and proves after every test that
// the file is still consistent.
package storetest
