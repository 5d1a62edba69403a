// Package figures is the room of the typed table: it reads the text of a table
// (a file, or what was pasted) into rows of speed and degrees, and writes such
// rows as text that it reads back unchanged.
//
// A figure is read right or asked about, never silently guessed. What the text
// itself decides is taken; what it leaves open is a question with the answers
// it allows, each with the first rows it would give; what is no row stands in
// a list with its line and the reason.
//
// The road of a text: clean.go (marks of encoding) → tokens.go (cells, by RFC
// 4180, with the five ways to separate them; separator.go chooses) → tables.go
// (heads, rows, several tables) → columns.go and heads.go (what a column is)
// → number.go (what a cell says) → rows.go → ask*.go.
package figures
