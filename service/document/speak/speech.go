package speak

import (
	"cmp"
	"embed"
	"encoding/json"
	"errors"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync"

	"seamwright/service/drawing/pen"
)

//go:embed drawings/*.json names/*.json sentences/*.json
var drawingFiles embed.FS

// drawings is how drawings and the papers of the bench speak a language: drawings/ has a file of texts for each but English,
// which is what they speak by themselves, names/ one of what woods and finishes are called, and sentences/ one of what answers
// and the catalogue that a shop begins with say. A language without them is drawn in English.
func drawings(tag string, comma bool, thousands string) (pen.Speech, error) {
	known.Lock()
	defer known.Unlock()
	if s, found := known.speech[tag]; found {
		return s, nil
	}
	s := pen.Speech{Language: tag, Comma: comma, Thousands: thousands}
	var sentences map[string]string
	if err := errors.Join(read("drawings/"+tag+".json", &s.Words), read("names/"+tag+".json", &s.Names),
		read("sentences/"+tag+".json", &sentences)); err != nil {
		return s, err
	}
	// Of two that begin alike the longer one goes first.
	for _, english := range slices.SortedFunc(maps.Keys(sentences),
		func(a, b string) int { return cmp.Or(len(b)-len(a), strings.Compare(a, b)) }) {
		s.Sentences = append(s.Sentences, pen.Learn(english, sentences[english]))
	}
	known.speech[tag] = s
	return s, nil
}

// known keeps what was read once: the files are embedded.
var known = struct {
	sync.Mutex
	speech map[string]pen.Speech
}{speech: map[string]pen.Speech{}}

func read(name string, into any) error {
	raw, err := drawingFiles.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return errors.Join(err, json.Unmarshal(raw, into))
}
