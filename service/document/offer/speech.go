package offer

import (
	"embed"
	"encoding/json"

	"seamwright/service/drawing/pen"
)

//go:embed drawings/*.json names/*.json
var drawingFiles embed.FS

// Speech is how the drawings of an offer speak a language: drawings/ has a file of texts for each but English, which is what the
// drawings speak by themselves, and names/ one of what woods and finishes are called. A language without them is drawn in English.
func Speech(language string) (pen.Speech, error) {
	raw, err := drawingFiles.ReadFile("drawings/" + language + ".json")
	if err != nil {
		return pen.Speech{}, nil //nolint:nilerr // no file of that language
	}
	words, err := speakerOf(language)
	if err != nil {
		return pen.Speech{}, err
	}
	s := pen.Speech{Comma: words.point == ","}
	if err := json.Unmarshal(raw, &s.Words); err != nil {
		return s, err
	}
	if raw, err = drawingFiles.ReadFile("names/" + language + ".json"); err != nil {
		return s, err
	}
	err = json.Unmarshal(raw, &s.Names)
	return s, err
}
