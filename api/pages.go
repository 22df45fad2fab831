package api

import (
	"strings"

	"github.com/labstack/echo/v4"

	"seamwright/service/fault"
)

// pageRoutes adds what a person looks at in a browser.
func (s *Server) pageRoutes() {
	s.echo.GET("/", s.getPage("index"))
	s.echo.GET("/docs", s.getPage("docs"))
	s.echo.GET("/order", s.getPage("order"))
	s.echo.GET("/assets/:name", s.getAsset)
}

func (s *Server) getPage(name string) echo.HandlerFunc {
	return echo.WrapHandler(s.site.Page(name))
}

func (s *Server) getAsset(c echo.Context) error {
	if file := s.site.File(c.Param("name")); file != nil {
		file.ServeHTTP(c.Response(), c.Request())
		return nil
	}
	return &fault.Fault{Kind: fault.NotFound, Detail: "No page loads a file of that name.", Fix: "There are: " + strings.Join(s.site.Names(), ", ") + "."}
}
