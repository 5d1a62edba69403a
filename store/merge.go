package store

// An outcome says what becomes of a push.
type outcome int

const (
	accept       outcome = iota // the push becomes current; what it replaces had been seen by its author
	alreadyThere                // the current version says the same
	replace                     // the push becomes current, the other version is kept
	setAside                    // the push is kept, the other version stays current
)

// merge decides between the current version and one edited from base. The
// later change wins; at equal times the greater revision does, so that the
// order of arrival plays no part. Nothing is mixed field by field.
func merge(current *Document, pushed Document, base string) outcome {
	switch {
	case current == nil:
		return accept
	case sameContent(*current, pushed):
		return alreadyThere
	case current.Revision == base:
		return accept
	case isLater(pushed, *current):
		return replace
	default:
		return setAside
	}
}

func isLater(a, b Document) bool {
	if a.ChangedAt.Equal(b.ChangedAt) {
		return a.Revision > b.Revision
	}
	return a.ChangedAt.After(b.ChangedAt)
}
