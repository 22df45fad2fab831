package counter

import (
	"cmp"
	"errors"
	"slices"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/document/speak"
	"seamwright/service/document/words"
	"seamwright/service/drawing/pen"
	"seamwright/service/fault"
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

// told says what is wrong with a request in a language, as far as it has words for it.
func told(speech pen.Speech, err error) error {
	var list fault.List
	if many, one := (fault.List)(nil), (*fault.Fault)(nil); !errors.As(err, &many) && !errors.As(err, &one) {
		return err
	}
	for _, f := range fault.All(err) {
		own := *f
		own.Detail, own.Fix = speech.Told(f.Detail), speech.Told(f.Fix)
		list = append(list, &own)
	}
	return list.Err()
}
