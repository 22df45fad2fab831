package speak

import (
	"embed"
	"encoding/json"
	"errors"
	"io/fs"

	"seamwright/service/drawing/pen"
)

//go:embed drawings/*.json names/*.json
var drawingFiles embed.FS

// drawings is how drawings speak a language: drawings/ has a file of texts for each but English, which is what they speak by
// themselves, and names/ one of what woods and finishes are called. A language without them is drawn in English.
func drawings(tag string, comma bool) (pen.Speech, error) {
	s := pen.Speech{Comma: comma}
	return s, errors.Join(read("drawings/"+tag+".json", &s.Words), read("names/"+tag+".json", &s.Names))
}

func read(name string, into any) error {
	raw, err := drawingFiles.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return errors.Join(err, json.Unmarshal(raw, into))
}
