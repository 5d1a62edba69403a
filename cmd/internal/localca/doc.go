// Package localca is the garage's own certificate authority: browsers grant
// offline work only to pages that came over trusted HTTPS, and no public
// authority vouches for an address inside a house.
//
// For most uses: [Make] an authority once, beside the garage file; [Load] it at
// every start; [NewKeeper] issues a leaf for this machine's names and addresses
// and renews it. A phone that installs the authority's certificate (see
// [Authority.Profile] for Apple's form of it) then trusts the garage.
//
// # What a stolen key could do
//
// Whoever holds the authority's key could pass for another server to phones
// that installed it. Its certificate therefore limits, critically and for good,
// what it can vouch for: names under .local, .home.arpa, .internal and
// localhost, this machine's own name and those given when it was made, and
// addresses that are private, loopback or link-local. No site of the internet
// is among them, no mailbox, and nothing but a server. The key file is for its owner only (mode 0600); leaf keys
// never reach a disk.
//
// # What is never touched
//
// An authority that is there is never made again, nor overwritten; a damaged
// one is an error that says so. [Replace] sets the old files aside under
// another name first. Certificates from elsewhere ([Given]) are only read.
package localca
