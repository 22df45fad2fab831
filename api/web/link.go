package web

import (
	"net/url"
	"strings"
)

// linkTo adds a link of RFC 8288 to the answer.
func (c *Call) linkTo(rel, target string) {
	c.Response().Header().Add("Link", "<"+target+`>; rel="`+rel+`"`)
}

// linkSelf says where the answer can be read again.
func (c *Call) linkSelf() {
	asked := c.Request().URL
	target := asked.EscapedPath()
	if query := canonical(asked.RawQuery); query != "" {
		target += "?" + query
	}
	c.linkTo("self", target)
}

// linkNext says where the page after this one is: the same call with another cursor.
func (c *Call) linkNext(cursor string) {
	values := url.Values{}
	for name, all := range c.values {
		values[name] = all
	}
	values.Set(cursorParameter, cursor)
	c.linkTo("next", c.Request().URL.EscapedPath()+"?"+values.Encode())
}

// canonical is a query as it can stand in a link: a caller's own signs between the angle brackets are escaped.
func canonical(query string) string {
	return strings.NewReplacer("<", "%3C", ">", "%3E", `"`, "%22", " ", "%20").Replace(query)
}
