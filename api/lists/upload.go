package lists

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"mime"
	"net/http"
	"strings"
	"time"
	"unicode"

	"github.com/labstack/echo/v4"

	"seamwright/api/web"
	"seamwright/api/workbook"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/pricelist"
	"seamwright/store/lists"
)

const (
	// largestList is how many bytes a list may have, as it is sent and when it is expanded. A million rows have about 50 MB.
	largestList = 512 << 20
	// largestHead is how much may stand before the rows of a JSON list.
	largestHead = 64 << 10
)

// Upload is a price list on its way in. Texts are as the sender wrote them; what is empty is not said.
type Upload struct {
	Body          io.Reader // as stated by MediaType, not compressed
	MediaType     string    // text/csv, application/x-ndjson, application/json or pricelist.WorkbookType
	Supplier      string
	Currency      string // empty: the catalogue's
	ListDate      string // YYYY-MM-DD; empty: today
	EffectiveFrom string // YYYY-MM-DD; empty: the list date
	Unit          string // of rows that name none
	Separator     string // CSV: comma, semicolon or tab; empty: recognised
	DecimalSign   string // CSV and texts of workbooks: point or comma; empty: recognised
	Sheet         string // of a workbook; empty: the first that is not hidden
	DryRun        bool
	Test          bool // by a test key: nothing but a dry run
	Replace       bool
	Key           string // Idempotency-Key
	By            string // who sends it

	inBody map[string]bool // what a JSON list says before its rows, by its name there
}

// openUpload makes the body of a request readable: not larger than it may be, expanded when it is compressed, and with
// a time limit for each piece instead of one for the whole.
func (s *room) openUpload(c *web.Call, up *Upload) (closing func(), err error) {
	r := c.Request()
	up.MediaType = r.Header.Get(echo.HeaderContentType)
	limit := s.largest
	switch up.kind() {
	case "text/csv", "application/x-ndjson", echo.MIMEApplicationJSON:
	case pricelist.WorkbookType:
		limit = min(limit, workbook.MostSent)
	default:
		return nil, web.Refuse(web.UnsupportedMedia,
			fmt.Sprintf("The Content-Type is %q; send a list as text/csv, application/x-ndjson, application/json or %s.",
				fault.Cut(up.MediaType, 100), pricelist.WorkbookType))
	}
	if r.ContentLength > limit {
		return nil, listTooLarge(limit)
	}
	control := http.NewResponseController(c.Response())
	body := web.NewStream(r.Body, limit, listTooLarge(limit), control)
	up.Body, closing, err = web.Expand(c, body, limit, listTooLarge(limit))
	return closing, err
}

func listTooLarge(limit int64) error {
	return web.Refuse(web.TooLarge, fmt.Sprintf("A price list may have at most %d bytes, also when it is expanded.",
		limit))
}

// kind is the media type without its parameters; empty when it is none.
func (up *Upload) kind() string {
	kind, _, err := mime.ParseMediaType(up.MediaType)
	if err != nil {
		return ""
	}
	return kind
}

// follow takes over what the supplier's layout says and the sender does not, for a list that has a header, and returns the layout.
func (up *Upload) follow(ctx context.Context, st *lists.Store) (*pricelist.Layout, error) {
	kind := up.kind()
	if kind != "text/csv" && kind != pricelist.WorkbookType || up.Supplier == "" || strings.ContainsFunc(up.Supplier, unicode.IsControl) {
		return nil, nil
	}
	l, err := st.Layout(ctx, up.Supplier)
	if err != nil || l == nil {
		return nil, err
	}
	up.Currency, up.Unit = cmp.Or(up.Currency, l.Currency), cmp.Or(up.Unit, string(l.Unit))
	up.DecimalSign = cmp.Or(up.DecimalSign, l.DecimalSign)
	if kind == pricelist.WorkbookType {
		up.Sheet = cmp.Or(up.Sheet, l.Sheet)
	} else {
		up.Separator = cmp.Or(up.Separator, l.Separator)
	}
	return l, nil
}

// open begins to read the list. End gives back what it holds.
func (up *Upload) open(ctx context.Context, options pricelist.Options) (reader *pricelist.Reader, end func(), err error) {
	if up.kind() != pricelist.WorkbookType {
		reader, err = pricelist.Open(up.Body, options)
		return reader, func() {}, err
	}
	sheet, err := workbook.Open(ctx, up.Body, 0, up.Sheet)
	if err != nil {
		return nil, nil, err
	}
	if reader, err = pricelist.OpenSheet(sheet, options); err != nil {
		sheet.Close()
		return nil, nil, err
	}
	return reader, sheet.Close, nil
}

// read holds what was said of a list against what can be said.
func (up *Upload) read(today catalogue.Date, currency string) (lists.List, pricelist.Options, error) {
	var wrong fault.List
	say := func(name, detail string) {
		f := &fault.Fault{Kind: fault.Invalid, Parameter: name, Detail: detail}
		if up.inBody[name] {
			f.Parameter, f.Pointer = "", "/"+name
		}
		wrong = append(wrong, f)
	}
	if strings.ContainsFunc(up.Supplier, unicode.IsControl) {
		say("supplier", "Has a tab or another character that cannot be seen; take it out.")
	}
	if up.Supplier == "" {
		say("supplier", "Is missing; name the supplier by its code, in the query or, in a JSON list, before its rows.")
	}
	currency, listed := cmp.Or(up.Currency, currency), cmp.Or(up.ListDate, string(today))
	for name, day := range map[string]string{"list_date": listed, "effective_from": up.EffectiveFrom} {
		if _, err := time.Parse(time.DateOnly, day); err != nil && day != "" {
			say(name, "Must be a day of the calendar as YYYY-MM-DD, such as 2026-11-01.")
		}
	}
	separators := map[string]rune{"": 0, "comma": ',', "semicolon": ';', "tab": '\t'}
	separator, ok := separators[up.Separator]
	if !ok {
		say("separator", "Must be comma, semicolon or tab.")
	}
	sign, ok := map[string]rune{"": 0, "point": '.', "comma": ','}[up.DecimalSign]
	if !ok {
		say("decimal_sign", "Must be point or comma.")
	}
	list := lists.List{Supplier: up.Supplier, Currency: currency, ListDate: catalogue.Date(listed),
		EffectiveFrom: catalogue.Date(cmp.Or(up.EffectiveFrom, listed)),
		Unit:          pricelist.Unit(up.Unit), Key: up.Key, Replace: up.Replace, DryRun: up.DryRun, By: up.By, Today: today}
	if up.Sheet != "" && up.kind() != pricelist.WorkbookType {
		say("sheet", "Only a workbook has sheets.")
	}
	options := pricelist.Options{MediaType: up.MediaType, Currency: currency, Unit: pricelist.Unit(up.Unit),
		Separator: separator, DecimalSign: sign, SheetStated: up.Sheet != ""}
	return list, options, wrong.Err()
}

// openJSON reads what stands before the rows of a JSON list, and leaves the body at the rows.
func (up *Upload) openJSON() error {
	if up.kind() != echo.MIMEApplicationJSON {
		return nil
	}
	head := &headReader{from: up.Body, left: largestHead}
	decoder := json.NewDecoder(head)
	first, err := decoder.Token()
	if err != nil {
		return notJSON(err)
	}
	opening := "["
	if first == json.Delim('{') {
		if err := up.members(decoder); err != nil {
			return err
		}
		opening = `{"rows"`
	} else if first != json.Delim('[') {
		return notJSON(nil)
	}
	up.Body = io.MultiReader(strings.NewReader(opening), decoder.Buffered(), up.Body)
	return nil
}

func notJSON(err error) error {
	return web.AsBody(err, `The document cannot be read; a JSON list is written as {"supplier": …, "currency": …, "list_date": …, "rows": [{"article": …, "price": …}, …]}, its rows last.`)
}

// members reads the members before the rows. What the query said must not be said again.
func (up *Upload) members(decoder *json.Decoder) error {
	texts := map[string]*string{"supplier": &up.Supplier, "currency": &up.Currency, "list_date": &up.ListDate,
		"effective_from": &up.EffectiveFrom, "unit": &up.Unit}
	truths := map[string]*bool{"dry_run": &up.DryRun, "replace": &up.Replace}
	var wrong fault.List
	up.inBody = map[string]bool{}
	for decoder.More() {
		token, err := decoder.Token()
		if err != nil {
			return notJSON(err)
		}
		name, _ := token.(string) // a member's name always is one
		if name == "rows" {
			return wrong.Err()
		}
		say := func(detail string) {
			wrong = append(wrong, &fault.Fault{Kind: fault.Invalid, Pointer: "/" + fault.Cut(name, 100), Detail: detail})
		}
		var value any
		if err := decoder.Decode(&value); err != nil {
			return notJSON(err)
		}
		switch v := value.(type) {
		case string:
			if into := texts[name]; into == nil {
				say("Unknown property.")
			} else if *into != "" {
				say("Is said twice, or in the query as well; say it once.")
			} else {
				*into, up.inBody[name] = v, true
			}
		case bool:
			if into := truths[name]; into == nil {
				say("Unknown property.")
			} else {
				*into = *into || v
			}
		default:
			say("Must be a text, or true or false for dry_run and replace.")
		}
	}
	wrong = append(wrong, &fault.Fault{Kind: fault.Invalid, Pointer: "/rows",
		Detail: "Required property \"rows\" is missing."})
	return wrong.Err()
}

// headReader keeps a member before the rows from filling the memory.
type headReader struct {
	from io.Reader
	left int
}

func (h *headReader) Read(p []byte) (int, error) {
	if h.left <= 0 {
		return 0, &fault.Fault{Kind: fault.Invalid,
			Detail: fmt.Sprintf("There are more than %d bytes before the rows.", largestHead)}
	}
	n, err := h.from.Read(p[:min(len(p), h.left)])
	h.left -= n
	return n, err
}
