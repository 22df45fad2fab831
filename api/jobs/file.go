package jobs

import (
	"cmp"
	"encoding/csv"
	"errors"
	"io"
	"mime"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/api/web"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/store/jobs"
)

// columns are those of a file of reports, in any order.
var columns = []string{"quote", "step", "minutes", "finished"}

const (
	mostInFile  = 10_000 // lines
	largestFile = 1 << 20
)

// postActuals keeps the reports of a file, whole or not at all.
func (s *room) postActuals(c *web.Call) error {
	lines, wrong, err := readFile(c.Request())
	if err != nil {
		return err
	}
	reports, more, err := s.reports(c, lines)
	if err != nil {
		return err
	}
	if err := inOrder(wrong, more).Err(); err != nil {
		return err
	}
	if err := s.Store.Jobs.Put(c.Ctx(), reports...); err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Value(loaded{len(lines), len(reports)}))
}

type loaded struct {
	Lines int `json:"lines"`
	Jobs  int `json:"jobs"`
}

// line is one line of a file.
type line struct {
	number   int
	quote    string
	finished catalogue.Date
	took
}

// inOrder is what is wrong with single cells and with the offers' reports, by line; of a cell that is wrong by itself no more is said.
func inOrder(wrong, more fault.List) fault.List {
	all := slices.Clone(wrong)
	for _, f := range more {
		if !slices.ContainsFunc(wrong, func(w *fault.Fault) bool { return w.Line == f.Line && w.Column == f.Column }) {
			all = append(all, f)
		}
	}
	slices.SortStableFunc(all, func(a, b *fault.Fault) int { return cmp.Compare(a.Line, b.Line) })
	return all
}

// readFile reads the lines, and what is wrong with single cells of them.
func readFile(r *http.Request) ([]line, fault.List, error) {
	declared := r.Header.Get(echo.HeaderContentType)
	if kind, _, err := mime.ParseMediaType(declared); err != nil || kind != "text/csv" {
		return nil, nil, web.Refuse(web.UnsupportedMedia, "Send the reports as text/csv.")
	}
	tooLarge := web.Refuse(web.TooLarge, "A file of reports may have at most 1 MiB; send the rest in another one.")
	in := csv.NewReader(web.NewStream(r.Body, largestFile, tooLarge, nil))
	in.FieldsPerRecord = -1
	head, err := in.Read()
	if err != nil {
		return nil, nil, broken(err)
	}
	head[0] = strings.TrimPrefix(head[0], "\ufeff")
	place, wrong := placesOf(head)
	if len(wrong) > 0 {
		return nil, nil, wrong.Err()
	}
	var list []line
	for {
		cells, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, nil, broken(err)
		}
		number, _ := in.FieldPos(0)
		if len(list) == mostInFile {
			return nil, nil, web.Refuse(
				web.TooLarge,
				"A file of reports may have at most "+strconv.Itoa(mostInFile)+" lines; send the rest in another one.",
			)
		}
		list = append(list, readLine(number, cells, place, &wrong))
	}
	if len(list)+len(wrong) == 0 {
		wrong = append(
			wrong,
			&fault.Fault{Kind: fault.Invalid, Line: 1, Detail: "The file has no lines below its head."},
		)
	}
	return list, wrong, nil
}

// broken is a file that cannot be read.
func broken(err error) error {
	var parse *csv.ParseError
	if errors.As(err, &parse) {
		return &fault.Fault{
			Kind:   fault.Invalid,
			Line:   max(parse.Line, 1),
			Detail: "The file is no CSV from here on: " + parse.Err.Error() + ".",
		}
	}
	if errors.Is(err, io.EOF) {
		return &fault.Fault{Kind: fault.Invalid, Line: 1, Detail: "The file is empty."}
	}
	return web.AsBody(err, "The file ended before all of it had arrived.")
}

// placesOf finds the columns.
func placesOf(head []string) (place map[string]int, wrong fault.List) {
	place = map[string]int{}
	for i, name := range head {
		_, twice := place[name]
		if place[name] = i; twice || !slices.Contains(columns, name) {
			wrong = append(
				wrong,
				&fault.Fault{
					Kind:   fault.Invalid,
					Line:   1,
					Column: fault.Cut(name, 60),
					Detail: "The columns are quote, step, minutes and, if it is known, finished, each once.",
				},
			)
		}
	}
	for _, name := range columns[:3] {
		if _, there := place[name]; !there {
			wrong = append(
				wrong,
				&fault.Fault{Kind: fault.Invalid, Line: 1, Column: name, Detail: "This column is missing."},
			)
		}
	}
	return place, wrong
}

func readLine(number int, cells []string, place map[string]int, wrong *fault.List) line {
	cell := func(name string) string {
		if at, there := place[name]; there && at < len(cells) {
			return strings.TrimSpace(cells[at])
		}
		return ""
	}
	bad := func(column, detail string) {
		*wrong = append(*wrong, &fault.Fault{Kind: fault.Invalid, Line: number, Column: column, Detail: detail})
	}
	l := line{
		number:   number,
		quote:    cell("quote"),
		finished: catalogue.Date(cell("finished")),
		took:     took{code: cell("step")},
	}
	var err error
	if l.minutes, err = strconv.ParseFloat(
		cell("minutes"),
		64,
	); err != nil ||
		!(l.minutes > 0 && l.minutes <= mostMinutes) {
		bad("minutes", "Must be a number over 0, at most 100000.")
	}
	if _, err := time.Parse(time.DateOnly, string(l.finished)); l.finished != "" && err != nil {
		bad("finished", "Must be a day of the calendar as YYYY-MM-DD.")
	}
	for _, name := range columns[:2] {
		if text := cell(name); text == "" || len(text) > 64 {
			bad(name, "Must have 1 to 64 characters.")
		}
	}
	return l
}

const mostMinutes = 100000

// reports makes a report of the lines of each offer. What is wrong is said by line.
func (s *room) reports(c *web.Call, lines []line) (list []*jobs.Report, wrong fault.List, err error) {
	var order []string
	by := map[string][]line{}
	for _, l := range lines {
		if by[l.quote] == nil {
			order = append(order, l.quote)
		}
		by[l.quote] = append(by[l.quote], l)
	}
	for _, quote := range order {
		own := by[quote]
		e := entry{}
		for _, l := range own {
			e.steps = append(e.steps, l.took)
			e.finished = max(e.finished, l.finished)
		}
		r, err := s.report(c, quote, &e)
		for _, f := range fault.All(err) {
			if f.Kind == fault.Internal || f.Kind == fault.Unavailable {
				return nil, nil, err
			}
			wrong = append(wrong, inLine(f, own))
		}
		list = append(list, r)
	}
	return list, wrong, nil
}

// inLine is a fault of a report where it stands in the file.
func inLine(f *fault.Fault, own []line) *fault.Fault {
	at := &fault.Fault{Kind: fault.Impossible, Line: own[0].number, Column: "quote", Detail: f.Detail, Fix: f.Fix}
	if parts := strings.Split(f.Pointer, "/"); len(parts) == 4 && parts[1] == "steps" {
		if i, err := strconv.Atoi(parts[2]); err == nil {
			at.Line, at.Column = own[i].number, "step"
		}
	}
	return at
}
