package api

import (
	"strings"

	"seamwright/service/fault"
)

// pageRoutes adds what a person looks at in a browser.
func (s *Server) pageRoutes() {
	for route, name := range map[string]string{"GET /": "index", "GET /docs": "docs", "GET /order": "order"} {
		page := s.site.Page(name)
		s.serve(route, func(c *Call) error { page.ServeHTTP(c.Response(), c.Request()); return nil })
	}
	s.serve("GET /assets/:name", s.getAsset)
}

func (s *Server) getAsset(c *Call) error {
	if file := s.site.File(c.Param("name")); file != nil {
		file.ServeHTTP(c.Response(), c.Request())
		return nil
	}
	return &fault.Fault{Kind: fault.NotFound, Detail: "No page loads a file of that name.", Fix: "There are: " + strings.Join(s.site.Names(), ", ") + "."}
}
