package web

import (
	"github.com/labstack/echo/v4"

	"seamwright/service/catalogue"
)

// Tell says English texts in a language; what it has no words for stays as it is.
type Tell func(text string) string

// Teller is how an operation whose answers customers read says what is refused: in the language that the call names in its query
// (empty when it names none), with the catalogue that there is, which may be nil.
type Teller func(language string, cat *catalogue.Snapshot) Tell

const tellKey = "tell"

// spoken has the problems of an operation said as its Teller does, whoever refuses the call and wherever on its way.
func (s *Server) spoken(teller Teller, next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		c.Set(tellKey, func() Tell { return teller(c.QueryParam("language"), s.Snapshot()) })
		return next(c)
	}
}

// told is a problem in the words of the operation that was called.
func told(c echo.Context, p Problem) Problem {
	teller, spoken := c.Get(tellKey).(func() Tell)
	if !spoken {
		return p
	}
	tell := teller()
	p.Title, p.Detail = tell(p.Title), tell(p.Detail)
	for i := range p.Errors {
		p.Errors[i].Detail = tell(p.Errors[i].Detail)
	}
	return p
}
