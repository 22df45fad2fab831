// Package workbook reads one sheet of a workbook (Office Open XML, ISO/IEC 29500) row by row, in bounded memory and with bounded
// work whatever was sent: its cells come as the exact texts that a CSV list would have in their place, or with what makes them
// unfit. It knows nothing of prices.
package workbook

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"golang.org/x/sync/semaphore"

	"seamwright/service/fault"
	"seamwright/service/pricelist"
)

// MostSent is how many bytes a workbook may have, as it is sent.
const MostSent = 32 << 20

const (
	// mostHeld is how many bytes of workbooks the process holds at once, of all senders together: a workbook can only be read when
	// all of it is there, and is kept in memory, as there need not be a disk.
	mostHeld = 128 << 20
	// piece is by how much a workbook's share of it grows.
	piece = 1 << 20
	// mostBooks is how many are taken apart at once; more wait. Each may take the memory of its shared texts.
	mostBooks = 2
)

// MostMemory is how many bytes all workbooks that are open or come in may take together: their own and their shared texts.
const MostMemory = mostHeld + mostBooks*mostTexts

var (
	held    = semaphore.NewWeighted(mostHeld / piece)
	reading = semaphore.NewWeighted(mostBooks)
)

// Sheet is an open sheet. It is for one goroutine, and must be closed.
type Sheet struct {
	name    string
	parts   *parts
	texts   *texts
	formats []format
	epoch   epoch
	xml     *tokens
	row     int // of the last row
	cells   []pricelist.Cell
	given   int64 // bytes of text given so far
	over    error // why there are no more rows
	free    func()
}

// Open takes all of body in, at most limit bytes of it (0: MostSent), and opens the sheet of that name; empty: the first sheet that is
// not hidden. Faults are Invalid: no workbook, no such sheet, parts that are missing, damaged or larger than they may be; or
// Unavailable while too many workbooks are being read. Errors of the body come back as they are.
func Open(ctx context.Context, body io.Reader, limit int64, sheet string) (*Sheet, error) {
	if limit <= 0 || limit > MostSent {
		limit = MostSent
	}
	content, free, err := hold(body, limit)
	if err != nil {
		return nil, err
	}
	if err := reading.Acquire(ctx, 1); err != nil {
		free()
		return nil, err
	}
	s := &Sheet{free: func() { reading.Release(1); free() }}
	if err := s.open(content, sheet); err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

// Close gives back what was held.
func (s *Sheet) Close() {
	if s.free != nil {
		s.xml.close()
		s.free()
	}
	*s = Sheet{name: s.name}
}

// Name is the sheet's name.
func (s *Sheet) Name() string { return s.name }

// pieces are the bytes of a workbook as they came, each piece of one size but the last.
type pieces struct {
	list [][]byte
	size int64
}

// ReadAt reads what lies there.
func (p *pieces) ReadAt(b []byte, off int64) (n int, err error) {
	for n < len(b) && off < p.size {
		more := copy(b[n:], p.list[off/piece][off%piece:])
		n, off = n+more, off+int64(more)
	}
	if n < len(b) {
		return n, io.EOF
	}
	return n, nil
}

// hold reads all of body into memory, as long as there is room for it.
func hold(body io.Reader, limit int64) (content *pieces, free func(), err error) {
	content = &pieces{}
	free = func() { held.Release(int64(len(content.list))) }
	for {
		if !held.TryAcquire(1) {
			free()
			return nil, nil, &fault.Fault{Kind: fault.Unavailable, Detail: "Too many workbooks are being read at the moment.",
				Fix: "Send it again in a moment."}
		}
		next := make([]byte, piece)
		n, err := io.ReadFull(body, next)
		content.list = append(content.list, next[:n])
		content.size += int64(n)
		switch {
		case content.size > limit:
			err = invalid("A workbook may have at most %d bytes; send so long a list as CSV.", limit)
		case err == nil:
			continue
		case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF) && n < piece:
			return content, free, nil
		}
		free()
		return nil, nil, err
	}
}

func invalid(text string, values ...any) *fault.Fault {
	return &fault.Fault{Kind: fault.Invalid, Detail: fmt.Sprintf(text, values...)}
}

// beginnings of what is sent for a workbook and is none that can be read.
var beginnings = []struct{ prefix, is string }{
	{"\xd0\xcf\x11\xe0", "a workbook of the old binary kind, or one with a password: save it as .xlsx, without a password"},
	{"%PDF", "a PDF document"},
	{"\x1f\x8b", "compressed with gzip: say so as its content encoding, or send it as it is"},
}

// open finds the parts and opens the sheet.
func (s *Sheet) open(content *pieces, sheet string) error {
	start := string(content.list[0][:min(len(content.list[0]), 8)])
	for _, b := range beginnings {
		if strings.HasPrefix(start, b.prefix) {
			return invalid("This is no workbook that can be read; it looks like %s.", b.is)
		}
	}
	var err error
	if s.parts, err = unpack(content); err != nil {
		return err
	}
	book, err := s.parts.book()
	if err != nil {
		return err
	}
	found, err := book.sheet(sheet)
	if err != nil {
		return err
	}
	s.name, s.epoch = found.name, book.epoch
	if s.formats, err = s.parts.formats(book.styles); err != nil {
		return err
	}
	if s.texts, err = s.parts.texts(book.texts); err != nil {
		return err
	}
	if s.xml, err = s.parts.open(found.part); err != nil {
		return err
	}
	return s.begin()
}
