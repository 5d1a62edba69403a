// Package pagefile reads the pages of a bbolt file that may be damaged, without
// bbolt: page by page, believing no number in them. It writes nothing and knows
// nothing of what is stored.
package pagefile
