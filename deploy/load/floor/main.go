// Floor is the program that the service is measured against: the same router, the same validation against the same
// spec, decoding into structs and a fixed answer encoded from structs. It computes nothing. See deploy/load.
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/signal"
	"reflect"
	"syscall"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"

	"seamwright/openapi"
)

func main() {
	answer := flag.String("answer", "", "`FILE` with an answer of the service to POST /v1/estimates")
	flag.Parse()
	if err := serve(*answer); err != nil {
		fmt.Fprintln(os.Stderr, "floor:", err)
		os.Exit(1)
	}
}

// serve answers on a free port of the loopback until it is asked to stop.
func serve(file string) error {
	raw, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	e, err := newFloor(raw)
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	asked := make(chan os.Signal, 1)
	signal.Notify(asked, os.Interrupt, syscall.SIGTERM)
	server := &http.Server{Handler: e}
	go func() { <-asked; _ = server.Close() }() // nothing is lost with a fixed answer
	fmt.Printf("floor serves on http://%s\n", listener.Addr())
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// newFloor makes the handler that gives this answer to every request that the spec allows.
func newFloor(answer []byte) (*echo.Echo, error) {
	document, err := openapi.Document()
	if err != nil {
		return nil, err
	}
	request := document.Components.Schemas["EstimateRequest"].Value
	requestType := typeOf(request)
	fixed, err := decodeAnswer(answer, document.Components.Schemas["Estimate"].Value)
	if err != nil {
		return nil, err
	}
	e := echo.New()
	e.POST("/v1/estimates", func(c echo.Context) error {
		raw, err := io.ReadAll(c.Request().Body)
		if err != nil {
			return err
		}
		var value any
		if err := json.Unmarshal(raw, &value); err != nil {
			return c.String(http.StatusBadRequest, err.Error())
		}
		if err := request.VisitJSON(value, openapi3.MultiErrors()); err != nil {
			return c.String(http.StatusBadRequest, err.Error())
		}
		if err := json.Unmarshal(raw, reflect.New(requestType).Interface()); err != nil {
			return c.String(http.StatusBadRequest, err.Error())
		}
		return c.JSON(http.StatusOK, fixed)
	})
	return e, nil
}

// decodeAnswer reads an answer into structs and makes sure that nothing of it gets lost there.
func decodeAnswer(answer []byte, schema *openapi3.Schema) (any, error) {
	fixed := reflect.New(typeOf(schema)).Interface()
	if err := json.Unmarshal(answer, fixed); err != nil {
		return nil, fmt.Errorf("the answer does not fit the spec: %w", err)
	}
	again, err := json.Marshal(fixed)
	if err != nil {
		return nil, err
	}
	var sent, kept any
	if err := errors.Join(json.Unmarshal(answer, &sent), json.Unmarshal(again, &kept)); err != nil {
		return nil, err
	}
	if !reflect.DeepEqual(sent, kept) {
		return nil, errors.New("the structs made from the spec do not hold the whole answer")
	}
	return fixed, nil
}
