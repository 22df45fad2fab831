package offer

import (
	"embed"
	"encoding/json"

	"seamwright/service/drawing/pen"
)

//go:embed drawings/*.json
var drawingFiles embed.FS

// Speech is how the drawings of an offer speak a language: drawings/ has a file for each but English, which is what the
// drawings speak by themselves. A language without one is drawn in English.
func Speech(language string) (pen.Speech, error) {
	raw, err := drawingFiles.ReadFile("drawings/" + language + ".json")
	if err != nil {
		return pen.Speech{}, nil //nolint:nilerr // no file of that language
	}
	s := pen.Speech{Comma: language == "de"}
	err = json.Unmarshal(raw, &s.Words)
	return s, err
}
