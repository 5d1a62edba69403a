// Package paper writes a setup card as one page that needs nothing else: an
// HTML text that any phone opens without this program, that prints on one
// sheet, and that holds the link and its QR code; and as a few lines of plain
// text for a message.
//
// The page has no script, asks for nothing from anywhere, and says so itself
// (a content security policy). What a person typed enters it only through text
// and val of markup.go, which escape it; whatever else stands in it is a
// constant of this package, which the types there see to. html/template would
// do the same, and would make what every phone loads a third larger (measured:
// 2.40 MB became 3.12 MB), because it keeps every method of every type.
//
// The files: page.go (in and out), sections.go and tables.go (what stands on
// the page), rows.go and labels.go (its lines in words), axes.go, curves.go and
// figure.go (the curve), code.go (the QR code), summary.go (the plain text),
// number.go (figures as they are shown), style.css.
package paper
