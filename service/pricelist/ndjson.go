package pricelist

import "strings"

// ndjsonList is a list with one JSON object a line.
type ndjsonList struct{ objectList }

func (l *ndjsonList) next(row *Row) (*Rejection, error) {
	for {
		line, size, tooLong, err := l.w.peek()
		if err != nil {
			return nil, err
		}
		at := l.w.line + 1
		if tooLong {
			r := reject(at, "", l.w.tooLongReason(), line)
			return r, l.w.skipLine()
		}
		cut := l.w.done && size == len(line) && size == len(l.w.rest())
		l.w.use(size, 1)
		if trim(line) == "" {
			continue
		}
		r := l.object(row, at, line)
		if r != nil && cut && !strings.HasSuffix(line, "}") {
			r.Reason += "; the list seems to have been cut off here"
		}
		return r, nil
	}
}
