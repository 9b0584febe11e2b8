package price

import (
	"errors"
	"slices"
	"strings"

	"pourbook/compute/book"
	"pourbook/compute/cell"
)

// Pair splits two names of jars that a comma parts; as names may hold commas
// themselves, at the comma for which both halves are jars of the book. False
// when there is none.
func Pair(b *book.Book, names string) ([2]string, bool) {
	for i, c := range names {
		if c != ',' {
			continue
		}
		first, second := strings.TrimSpace(names[:i]), strings.TrimSpace(names[i+1:])
		if isJar(b, first) && isJar(b, second) {
			return [2]string{first, second}, true
		}
	}
	return [2]string{}, false
}

func isJar(b *book.Book, name string) bool {
	return slices.ContainsFunc(b.Jars, func(j *book.Jar) bool { return cell.Fold(j.Name.V) == cell.Fold(name) })
}

// Compare prices two jars of the book alike. On an error the comparison holds
// the problems alone. A target that one of the two can carry is no error.
func Compare(b *book.Book, jars [2]string, opts Options) (*Comparison, error) {
	c := &Comparison{Schema: Schema}
	opts.compared = true
	carried := 0
	var failed error
	for i, name := range jars {
		opts.Jar = name
		r, err := Run(b, opts)
		c.Results[i] = r
		c.Problems.Join(r.Problems)
		switch {
		case err == nil:
			carried++
		case !errors.Is(err, ErrMargin):
			return c, err
		default:
			failed = err
		}
	}
	if carried == 0 {
		return c, failed
	}
	return c, nil
}
