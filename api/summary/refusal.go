package summary

import (
	"io"
)

// Wrong is one thing that is wrong with a request, and where.
type Wrong struct{ Where, Detail string }

// WriteRefusal prints why there is no estimate: the whole in one sentence, and each thing that is wrong once, by its places. What the
// sentence says alone is not said again.
func WriteRefusal(w io.Writer, title, detail string, list []Wrong, columns int) error {
	p := newPrinter(0, columns)
	said := false
	for _, one := range list {
		said = said || one.Detail == detail && one.Where != ""
	}
	if said {
		p.prose(2, "seamwright: %s.", title)
	} else {
		p.prose(2, "seamwright: %s: %s", title, detail)
	}
	where := ""
	for i, one := range list {
		if i > 0 && list[i-1].Detail == one.Detail {
			continue // said with the place before
		}
		for _, next := range list[i+1:] {
			if next.Detail != one.Detail {
				break
			}
			one.Where += ", " + next.Where
		}
		switch {
		case one.Where == "" && one.Detail == detail: // said above
		case one.Where == "":
			p.prose(4, "  %s", one.Detail)
		case one.Where == where:
			p.prose(4, "    %s", one.Detail)
		default:
			where = one.Where
			p.prose(4, "  %s: %s", one.Where, one.Detail)
		}
	}
	_, err := io.WriteString(w, p.b.String())
	return err
}
