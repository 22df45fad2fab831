package estimates

import (
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"seamwright/api/show"
	"seamwright/api/web"
	"seamwright/api/wire"
	paperwords "seamwright/service/document/words"
	"seamwright/service/estimate"
)

// byMedia are the views that POST /v1/estimates answers with when its Accept asks for their type instead of JSON.
var byMedia = []struct{ media, view string }{
	{"image/svg+xml", "plan.svg"}, {"application/pdf", "offer.pdf"}, {"text/html", "offer.html"}, {"text/csv", "bill.csv"},
}

// viewWanted is the view that an Accept header asks for; empty: JSON will do. A type with quality 0 is not asked for.
func viewWanted(accept []string) string {
	for _, header := range accept {
		for one := range strings.SplitSeq(header, ",") {
			media, parameters, _ := strings.Cut(strings.TrimSpace(one), ";")
			if quality, found := strings.CutPrefix(strings.TrimSpace(parameters), "q="); found &&
				strings.Trim(quality, "0.") == "" {
				continue
			}
			switch media = strings.TrimSpace(media); media {
			case "application/json", "*/*", "application/*":
				return ""
			}
			for _, p := range byMedia {
				if p.media == media {
					return p.view
				}
			}
		}
	}
	return ""
}

// postView works a top out and answers with a view of it; nothing is stored.
func (s *room) postView(c *web.Call, name string) error {
	o, err := ViewOptions(c)
	if err != nil {
		return err
	}
	order, err := web.Read(c, ReadOrder)
	if err != nil {
		return err
	}
	now, err := web.InShop(s.Now(), c.Cat)
	if err != nil {
		return err
	}
	var est *estimate.Estimate
	if err := s.InTurn(c.Ctx(), func() (err error) {
		est, err = Work(c.Ctx(), order, c.Cat, now)
		return err
	}); err != nil {
		return err
	}
	return SendView(s.Server, c, name, &show.Subject{Estimate: est, Shop: &c.Cat.Settings.ShopSettings,
		Date: s.Today(c.Cat), Reference: est.Reference}, o)
}

// ViewOptions reads what a call chooses of a view.
func ViewOptions(c *web.Call) (show.Options, error) {
	o, err := PaperOptions(c)
	o.Corner, o.Run, o.Below = c.Number("corner"), c.Number("run"), c.Text("side") == "below"
	return o, err
}

// PaperOptions reads what a call chooses of any paper or picture.
func PaperOptions(c *web.Call) (show.Options, error) {
	languages := paperwords.Languages()
	if c.Has("language") && !slices.Contains(languages, c.Text("language")) {
		c.Wrong("language", "Must be "+wire.InWords(languages)+".")
	}
	return show.Options{Narrow: c.Text("width") == "phone", Language: c.Text("language"), Paper: c.Text("paper")}, c.Faults()
}

// documentPolicy lets a browser show a document that stands by itself, and load and run nothing.
const documentPolicy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; sandbox"

// SendView answers with a view of an estimate.
func SendView(s *web.Server, c *web.Call, name string, subject *show.Subject, o show.Options) error {
	return SendMade(s, c, name, subject, func() ([]byte, error) { return show.Make(name, subject, o) })
}

// SendMade answers with a view that is made when it is the call's turn and the subject has the shop's logo.
func SendMade(s *web.Server, c *web.Call, name string, subject *show.Subject, make func() ([]byte, error)) error {
	logo, err := logoFor(s, c, name)
	if err != nil {
		return err
	}
	subject.Logo = logo
	var raw []byte
	if err := s.InTurn(c.Ctx(), func() (err error) { raw, err = make(); return err }); err != nil {
		return err
	}
	header := c.Response().Header()
	header.Set("Content-Security-Policy", documentPolicy)
	if !slices.Contains([]string{"svg", "html"}, name[strings.LastIndex(name, ".")+1:]) {
		header.Set(echo.HeaderContentDisposition, `attachment; filename="`+fileName(subject)+name+`"`)
	}
	header.Add("Vary", "Accept")
	return c.Whole(show.Media(name), raw)
}

// fileName begins the name of a file that a browser saves.
func fileName(s *show.Subject) string {
	if s.Number == "" {
		return ""
	}
	return "quote-" + s.Number + "-" + strconv.Itoa(s.Revision) + "-"
}

// logoFor is the shop's logo where a view shows one; a view without a database has none.
func logoFor(s *web.Server, c *web.Call, view string) ([]byte, error) {
	if s.Store == nil || !strings.HasSuffix(view, ".pdf") && !strings.HasSuffix(view, ".html") {
		return nil, nil
	}
	logo, err := s.Store.Letterhead.Logo(c.Ctx())
	if err != nil || logo == nil {
		return nil, s.Reached(err)
	}
	return logo.Image, nil
}
