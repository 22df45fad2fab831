package document

import (
	"bytes"
	_ "embed" // the page's frame and styles
	"encoding/base64"
	"fmt"
	"html/template"
	"regexp"
	"strings"
)

//go:embed page.html
var frame string

//go:embed page.css
var styles string

var page = template.Must(template.New("page").Funcs(template.FuncMap{
	"kind":    func(b Block) string { return strings.TrimPrefix(fmt.Sprintf("%T", b), "document.") },
	"drawn":   drawn,
	"percent": percent,
	"lines":   func(cell string) []string { return strings.Split(cell, "\n") },
	"whole":   whole,
}).Parse(frame))

// HTML renders the document as a page that stands by itself: its styles and pictures are in it, it has no scripts, and it
// prints well.
func (d *Document) HTML() ([]byte, error) {
	var out bytes.Buffer
	err := page.Execute(&out, struct {
		*Document
		Styles template.CSS
		Logo   template.URL
	}{d, template.CSS(styles), d.Letter.logo()}) //nolint:gosec // the styles are embedded
	if err != nil {
		return nil, fmt.Errorf("write page %s: %w", d.Title, err)
	}
	return out.Bytes(), nil
}

// drawn is a picture's own text: it was written by package pen, which escapes everything that came from a caller.
func drawn(picture []byte) template.HTML {
	return template.HTML(picture) //nolint:gosec // see above
}

// mixed are whole numbers with a fraction: browsers would break a line behind the hyphen, and 4-3/32 would read as 3/32.
var mixed = regexp.MustCompile(`[0-9]+-[0-9]+/[0-9]+`)

// whole escapes a text, with its mixed numbers in one line each.
func whole(text string) template.HTML {
	return template.HTML(mixed.ReplaceAllString(template.HTMLEscapeString(text), `<span class="whole">$0</span>`)) //nolint:gosec // it is escaped
}

func percent(c Column, all []Column) string {
	total := 0.0
	for _, one := range all {
		total += one.Weight
	}
	return fmt.Sprintf("%.1f%%", 100*c.Weight/total)
}

// logo is the picture as a data address, empty when there is none that a page can show.
func (l Letterhead) logo() template.URL {
	raw := logoPNG(l.Logo)
	if raw == nil {
		return ""
	}
	return template.URL("data:image/png;base64," + base64.StdEncoding.EncodeToString(raw)) //nolint:gosec // base64 has nothing that could end the attribute
}
