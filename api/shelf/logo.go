package shelf

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // so that it can be looked at
	_ "image/png"  // likewise
	"io"
	"mime"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"seamwright/api/web"
	"seamwright/service/fault"
	"seamwright/store/letterhead"
)

const (
	largestLogo    = 256 << 10
	mostLogoPixels = 4000 // across and down: decoded it takes 64 MB at most
)

func (s *room) logoRoutes() {
	s.Serve("GET /v1/letterhead/logo", s.getLogo)
	s.Serve("PUT /v1/letterhead/logo", s.putLogo, web.Way{Largest: largestLogo})
	s.Serve("DELETE /v1/letterhead/logo", s.deleteLogo)
}

func (s *room) getLogo(c *web.Call) error {
	logo, err := s.Store.Letterhead.Logo(c.Ctx())
	if err != nil {
		return err
	}
	if logo == nil {
		return &fault.Fault{Kind: fault.NotFound, Detail: "There is no logo."}
	}
	return c.WholeVersion(logo.Media, logo.Image, logo.Version)
}

// putLogo keeps a picture that can be drawn on paper.
func (s *room) putLogo(c *web.Call) error {
	logo, err := readLogo(c.Request())
	if err != nil {
		return err
	}
	created, err := s.changeLogo(c, logo)
	if err != nil {
		return err
	}
	c.Tag(logo.Image, logo.Version)
	if created {
		c.Made("/v1/letterhead/logo")
		return c.NoContent(http.StatusCreated)
	}
	return c.Gone()
}

func (s *room) deleteLogo(c *web.Call) error {
	if _, err := s.changeLogo(c, nil); err != nil {
		return err
	}
	return c.Gone()
}

func (s *room) changeLogo(c *web.Call, to *letterhead.Logo) (created bool, err error) {
	return s.Store.Letterhead.Change(c.Ctx(), to, c.Actor(), s.Now(), func(now *letterhead.Logo) error {
		if now == nil {
			return c.Allows(false, 0)
		}
		return c.Allows(true, now.Version)
	})
}

// readLogo reads a picture and looks at the whole of it.
func readLogo(r *http.Request) (*letterhead.Logo, error) {
	media, _, err := mime.ParseMediaType(r.Header.Get(echo.HeaderContentType))
	kind, known := map[string]string{"image/png": "png", "image/jpeg": "jpeg"}[media]
	if err != nil || !known {
		return nil, web.Refuse(web.UnsupportedMedia,
			fmt.Sprintf("The Content-Type is %q; send the picture as image/png or image/jpeg.",
				fault.Cut(r.Header.Get(echo.HeaderContentType), 100)))
	}
	raw, err := io.ReadAll(io.LimitReader(r.Body, largestLogo+1))
	if err != nil {
		return nil, &fault.Fault{Kind: fault.Invalid, Detail: "The body ended before all of it had arrived."}
	}
	if len(raw) > largestLogo {
		return nil, web.Refuse(web.TooLarge, fmt.Sprintf("A logo may have at most %d bytes.", largestLogo))
	}
	config, found, err := image.DecodeConfig(bytes.NewReader(raw))
	if err == nil && found == kind && max(config.Width, config.Height) <= mostLogoPixels {
		_, _, err = image.Decode(bytes.NewReader(raw))
	}
	switch {
	case err != nil:
		return nil, &fault.Fault{Kind: fault.Invalid, Detail: "The picture is damaged, or none: it cannot be drawn."}
	case found != kind:
		return nil, &fault.Fault{Kind: fault.Invalid,
			Detail: fmt.Sprintf("The picture is a %s, and the Content-Type says %s.", strings.ToUpper(found), media)}
	case max(config.Width, config.Height) > mostLogoPixels:
		return nil, &fault.Fault{Kind: fault.Invalid,
			Detail: fmt.Sprintf("The picture has %d by %d pixels; at most %d each way are taken.", config.Width, config.Height,
				mostLogoPixels)}
	}
	return &letterhead.Logo{Media: media, Image: raw}, nil
}
