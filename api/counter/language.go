package counter

import (
	"cmp"
	"slices"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/document/speak"
	"seamwright/service/document/words"
	"seamwright/service/drawing/pen"
)

// speech is how a call's language is spoken, or else the shop's.
func speech(c *web.Call) (pen.Speech, error) {
	if languages := words.Languages(); c.Has("language") && !slices.Contains(languages, c.Text("language")) {
		c.Wrong("language", "Must be "+wire.InWords(languages)+".")
		return pen.Speech{}, c.Faults()
	}
	speaker, err := speak.In(cmp.Or(c.Text("language"), c.Cat.Settings.ShopLanguage))
	if err != nil {
		return pen.Speech{}, err
	}
	return speaker.Drawings, nil
}

// asked is how a call's language is spoken, and what its body asks.
func asked[T any](c *web.Call, read func(*wire.Object) T) (speaks pen.Speech, body T, err error) {
	if speaks, err = speech(c); err == nil {
		body, err = web.Read(c, read)
	}
	return speaks, body, err
}

// told is how the operations that customers' pages call say what they refuse: in the language of the call when there is one, or else the shop's.
var told = web.Way{Tell: func(language string, cat *catalogue.Snapshot) web.Tell {
	if !slices.Contains(words.Languages(), language) {
		if language = ""; cat != nil {
			language = cat.Settings.ShopLanguage
		}
	}
	speaker, err := speak.In(language)
	if err != nil { // there is no catalogue that says how the shop speaks
		return func(text string) string { return text }
	}
	return speaker.Drawings.Told
}}
