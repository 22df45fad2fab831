package web

import (
	"net/http"
	"strings"

	"github.com/klauspost/compress/gzhttp"
)

// compressed sends large answers with gzip or zstd to callers who take them. The ETag of such an answer ends in -gzip or
// -zstd, as its bytes are others (RFC 9110, section 8.8.3.3); what does not ask for it goes as before. An answer that shows a
// secret is never compressed (see plainly): its length would tell of the secret to whoever can choose what stands beside it and
// sees the line (BREACH). For all others that leads to nothing: a browser sends no access key by itself, so that a foreign
// page can make nobody ask.
func compressed(next http.Handler) (http.Handler, error) {
	wrap, err := gzhttp.NewWrapper(gzhttp.MinSize(smallestCompressed), gzhttp.CompressionLevel(gzipEffort),
		gzhttp.ContentTypeFilter(shrinks), gzhttp.SuffixETag(tagSuffix), gzhttp.PreferZstd(false))
	if err != nil {
		return nil, err
	}
	shrinking := wrap(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if takes(r.Header.Values("Accept-Encoding")) {
			shrinking.ServeHTTP(w, r)
			return
		}
		w.Header().Add("Vary", "Accept-Encoding")
		next.ServeHTTP(w, r)
	}), nil
}

const (
	// smallestCompressed is from how many bytes on an answer gains by it: less fits into one packet.
	smallestCompressed = 1400
	// gzipEffort is gzip's level, see deploy/load/RESULTS.md.
	gzipEffort = 2
	// tagSuffix is what the library ends a tag with; it turns it into -zstd where that is sent.
	tagSuffix = "-gzip"
)

// takes says whether a caller may take something compressed; the library reads exactly what.
func takes(accepted []string) bool {
	for _, one := range accepted {
		if strings.Contains(one, "gzip") || strings.Contains(one, "zstd") {
			return true
		}
	}
	return false
}

// shrinks says whether a media type is text; pictures and PDFs are compressed by themselves.
func shrinks(mediaType string) bool {
	kind, _, _ := strings.Cut(mediaType, ";")
	return strings.HasPrefix(kind, "text/") || strings.HasSuffix(kind, "json") || strings.HasSuffix(kind, "xml") ||
		strings.HasSuffix(kind, "yaml")
}

// plainly keeps the answer from being compressed.
func plainly(header http.Header) { header.Set(gzhttp.HeaderNoCompression, "1") }

// uncoded is a tag without what tells compressed answers apart.
func uncoded(tag string) string {
	for _, suffix := range []string{`-gzip"`, `-zstd"`} {
		if plain, ok := strings.CutSuffix(tag, suffix); ok {
			return plain + `"`
		}
	}
	return tag
}
