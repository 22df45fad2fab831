// Package pages holds what a person looks at in a browser: the first page, the page that explains the interface, and
// what they load. Everything is embedded; no page asks an address outside of the service for anything.
package pages

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"slices"
	"strconv"
	"strings"
	"sync"
)

//go:embed assets
var files embed.FS

// Page is something that a browser loads: a page, or a file that pages load.
type Page struct {
	media  string
	policy string // Content-Security-Policy
	plain  []byte
	packed []byte // the same by gzip
	etag   string
}

// The policies say what a page may load. The first two allow nothing but files of this service; the console sets
// styles on its elements, which needs 'unsafe-inline' for styles.
const (
	closed  = "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
	strict  = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; manifest-src 'self'; " + closed
	console = "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; connect-src 'self'; " + closed
)

// Site is all pages and files, by their paths.
type Site struct {
	pages map[string]*Page
	order map[string]*Page // by language
	files map[string]*Page
}

// Order is what the order page must know of the service.
type Order struct {
	Key    string // a publishable key, which the page shows to whoever reads it
	Locked bool   // the service wants keys and has none for the page
}

// Load puts the embedded files together. It fails only when they are not what they should be.
func Load(order Order) (*Site, error) {
	s := &Site{pages: map[string]*Page{}, order: map[string]*Page{}, files: map[string]*Page{}}
	embedded, err := embedded()
	if err != nil {
		return nil, err
	}
	for name, p := range embedded {
		if base, isPage := strings.CutSuffix(name, ".html"); isPage {
			s.pages[base] = p
		} else {
			s.files[name] = p
		}
	}
	raw, err := files.ReadFile("assets/" + orderPage)
	if err != nil {
		return nil, err
	}
	return s, s.fill(raw, order)
}

// orderPage is the one file that is not the same for every service.
const orderPage = "order.html"

// embedded reads the other files, and shrinks them, which takes its time, once for all services of a process.
var embedded = sync.OnceValues(func() (map[string]*Page, error) {
	entries, err := fs.ReadDir(files, "assets")
	if err != nil {
		return nil, err
	}
	all := map[string]*Page{}
	for _, entry := range entries {
		if entry.Name() == orderPage {
			continue
		}
		raw, err := files.ReadFile("assets/" + entry.Name())
		if err != nil {
			return nil, err
		}
		name := strings.TrimSuffix(entry.Name(), ".gz")
		if all[name], err = newPage(name, raw, name != entry.Name()); err != nil {
			return nil, fmt.Errorf("embedded file %s: %w", entry.Name(), err)
		}
	}
	return all, nil
})

func newPage(name string, raw []byte, packed bool) (*Page, error) {
	p := &Page{media: mediaOf(name), policy: strict, plain: raw, packed: raw}
	if name == "docs.html" {
		p.policy = console
	}
	var err error
	if packed {
		p.plain, err = expand(raw)
	} else {
		p.packed, err = shrink(raw)
	}
	sum := sha256.Sum256(p.plain)
	p.etag = hex.EncodeToString(sum[:12])
	return p, err
}

// mediaOf is the media type by the name's end.
func mediaOf(name string) string {
	switch end := path.Ext(name); end {
	case ".txt":
		return "text/plain; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".webmanifest":
		return "application/manifest+json"
	default:
		return mime.TypeByExtension(end)
	}
}

func expand(raw []byte) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(raw))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
}

func shrink(raw []byte) ([]byte, error) {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(raw); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// Page returns the page of that name ("index", "docs"), nil when there is none.
func (s *Site) Page(name string) *Page { return s.pages[name] }

// File returns the file of that name that pages load, nil when there is none.
func (s *Site) File(name string) *Page { return s.files[name] }

// Names lists the files that pages load, sorted.
func (s *Site) Names() []string {
	names := make([]string, 0, len(s.files))
	for name := range s.files {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// ServeHTTP answers with the page, shrunk when the caller takes that, or with 304 when the caller holds it already.
func (p *Page) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	header := w.Header()
	body, etag := p.plain, `"`+p.etag+`"`
	header.Set("Vary", "Accept-Encoding")
	if takesGzip(r.Header.Get("Accept-Encoding")) && len(p.packed) < len(p.plain) {
		body, etag = p.packed, `"`+p.etag+`-gzip"`
		header.Set("Content-Encoding", "gzip")
	}
	header.Set("ETag", etag)
	header.Set("Cache-Control", "no-cache")
	header.Set("Content-Security-Policy", p.policy)
	header.Set("X-Content-Type-Options", "nosniff")
	header.Set("Referrer-Policy", "no-referrer")
	if strings.Contains(r.Header.Get("If-None-Match"), etag) {
		header.Del("Content-Encoding")
		w.WriteHeader(http.StatusNotModified)
		return
	}
	header.Set("Content-Type", p.media)
	header.Set("Content-Length", strconv.Itoa(len(body)))
	if r.Method != http.MethodHead {
		_, _ = w.Write(body) // a caller who hangs up is nobody's fault here
	}
}

// takesGzip says whether an Accept-Encoding takes gzip (RFC 9110, section 12.5.3): named, and not with quality 0.
func takesGzip(accept string) bool {
	for one := range strings.SplitSeq(accept, ",") {
		name, parameters, _ := strings.Cut(strings.TrimSpace(one), ";")
		if !strings.EqualFold(strings.TrimSpace(name), "gzip") {
			continue
		}
		quality, found := strings.CutPrefix(strings.TrimSpace(parameters), "q=")
		q, err := strconv.ParseFloat(quality, 64)
		return !found || err == nil && q > 0
	}
	return false
}
