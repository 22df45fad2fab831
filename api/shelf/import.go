package shelf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/fault"
	"seamwright/service/sheet"
	"seamwright/store/shelf"
)

const (
	largestImport = 16 << 20 // bytes of a file
	mostImports   = 4        // files that an instance has in memory at once
)

// importing bounds how many files are in memory at once, from before they are read.
func (s *room) importing(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if !s.imports.TryAcquire(1) {
			return web.Limited(c, 5*time.Second, fmt.Sprintf("%d files are being loaded, which is as many as at once.",
				mostImports))
		}
		defer s.imports.Release(1)
		return next(c)
	}
}

// putImport loads an edited export back: whole or not at all. Rows that are as they were change nothing, rows that
// are not in the file stay.
func (s *room) putImport(c *web.Call) error {
	part, err := partOf(c)
	if err != nil {
		return err
	}
	raw, err := readFile(c.Request())
	if err != nil {
		return err
	}
	lines, wrong := part.ReadCSV(raw)
	if len(lines) == 0 && len(wrong) > 0 {
		return inFile(&shelf.RefusedError{Wrong: wrong})
	}
	done, err := s.Store.Shelf.Edit(c.Ctx(), editOf(c, part, lines, wrong))
	if err != nil {
		return inFile(err)
	}
	return c.Send(http.StatusOK, web.Value(shownImport(part, len(lines), done)))
}

// partOf is the part of the catalogue that a file is for.
func partOf(c *web.Call) (*sheet.Part, error) {
	part := sheet.Find(c.Param("part"))
	switch {
	case part != sheet.Prices && c.Has("allow_moves"):
		c.Wrong("allow_moves", "Only prices are held against a limit.")
		return nil, c.Faults()
	case part == nil:
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: "There is no such part of the catalogue.",
			Fix: "There are: " + joinNames("") + "."}
	case c.Conditional():
		return nil, &fault.Fault{Kind: fault.Invalid, Parameter: "If-Match",
			Detail: "A file has no ETag; the column version says of each row which state was edited."}
	}
	return part, nil
}

func editOf(c *web.Call, part *sheet.Part, lines []sheet.Line, wrong []sheet.Wrong) shelf.Edit {
	edit := shelf.Edit{Part: part, Actor: c.Actor(), Known: c.Cat, AllowMoves: c.Flag("allow_moves"), Keys: make([]string, len(lines)),
		Decide: func(now map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error) {
			writes, more := decideLines(part, lines, now)
			return writes, append(more, wrong...), nil
		}}
	for i, l := range lines {
		edit.Keys[i] = l.Row.Key()
	}
	return edit
}

// imported is what loading a file did.
type imported struct {
	Part      string    `json:"part"`
	Revision  int64     `json:"revision"`
	Rows      int       `json:"rows"`
	Created   int       `json:"created"`
	Changed   int       `json:"changed"`
	Unchanged int       `json:"unchanged"`
	Warnings  []oddCell `json:"warnings"`
}

// oddCell is what is odd about a cell of a file, but may be so.
type oddCell struct {
	Line   int    `json:"line"`
	Column string `json:"column"`
	Text   string `json:"text"`
}

func shownImport(part *sheet.Part, rows int, done *shelf.Edited) imported {
	return imported{part.Name, done.Snapshot.Revision, rows, done.Created, done.Changed - done.Created,
		rows - done.Changed,
		wire.Shown(done.Odd, func(o *sheet.Wrong) oddCell { return oddCell{o.Row, o.Column, o.Detail} })}
}

// decideLines compares the lines with the rows that there are. A line that changes a row must have the version that
// was exported: what somebody else changed since is not overwritten.
func decideLines(part *sheet.Part, lines []sheet.Line,
	now map[string]shelf.Present) (writes []shelf.Write, wrong []sheet.Wrong) {
	refuse := func(l sheet.Line, column, format string, args ...any) {
		wrong = append(wrong, sheet.Wrong{Row: l.Number, Column: column, Detail: fmt.Sprintf(format, args...)})
	}
	for _, l := range lines {
		p, there := now[l.Row.Key()]
		version := strconv.FormatInt(p.Version, 10)
		live := there && p.Live
		switch {
		case live && p.Row.Same(l.Row):
			continue
		case part == sheet.Settings && !there:
			refuse(l, "key", "There is no setting %q; the program knows all there are.", l.Row.Key())
		case !part.Versioned:
		case live && l.Version == "":
			refuse(l, "version", "%s exists already. To change it, give the version that the export has.", l.Row.Key())
		case live && l.Version != version:
			refuse(l, "version", "%s was changed since the export: it is at version %s now. Export again and make your change there.", l.Row.Key(), version)
		case !live && l.Version != "":
			refuse(l, "version", "%s does not exist, or was retired since the export. Leave the version empty to make it.",
				l.Row.Key())
		}
		writes = append(writes, shelf.Write{Number: l.Number, Row: l.Row})
	}
	return writes, wrong
}

// inFile says where in the file is what an edit refused.
func inFile(err error) error {
	var refused *shelf.RefusedError
	if !errors.As(err, &refused) {
		return err
	}
	return unfitCells(refused, func(w sheet.Wrong) fault.Fault { return fault.Fault{Line: w.Row, Column: w.Column} })
}

// readFile reads a CSV body, under the limit for files.
func readFile(r *http.Request) ([]byte, error) {
	kind, parameters, err := mime.ParseMediaType(r.Header.Get(echo.HeaderContentType))
	charset, given := parameters["charset"]
	switch coding := r.Header.Get(echo.HeaderContentEncoding); {
	case coding != "" && coding != "identity":
		return nil, web.Refuse(web.UnsupportedMedia, "Send the file uncompressed, without Content-Encoding.")
	case err != nil || kind != "text/csv":
		return nil, web.Refuse(web.UnsupportedMedia, fmt.Sprintf("The Content-Type is %q; send text/csv.",
			fault.Cut(r.Header.Get(echo.HeaderContentType), 100)))
	case given && !strings.EqualFold(charset, "utf-8"):
		return nil, web.Refuse(web.UnsupportedMedia, fmt.Sprintf("The charset is %q; send the file in UTF-8.",
			fault.Cut(charset, 100)))
	}
	var buf bytes.Buffer
	_, err = buf.ReadFrom(io.LimitReader(r.Body, largestImport+1))
	if buf.Len() > largestImport || r.ContentLength > largestImport {
		web.Drain(r)
		return nil, web.Refuse(web.TooLarge, fmt.Sprintf("The file may be at most %d bytes; load it in parts.",
			largestImport))
	}
	if err != nil {
		return nil, &fault.Fault{Kind: fault.Invalid, Detail: "The body ended before all of it had arrived."}
	}
	return buf.Bytes(), nil
}
