package view

import (
	"context"
	"embed"
	"encoding/json"
	"errors"
	"io"
	"net"
	"net/http"
	"path"
	"strconv"
	"strings"
	"time"

	"foredge/cmd/internal/pagelook"
	"foredge/lang/source"
)

//go:embed page
var page embed.FS

// assets are the parts of the page, by the address at which each is served.
func assets() map[string]string {
	return map[string]string{
		"/": "index.html", "/page.css": "page.css", "/page.js": "page.js", "/design.js": "design.js",
		"/drawing.js": "drawing.js", "/lines.js": "lines.js", "/measure.js": "measure.js", "/elements.js": "elements.js",
	}
}

// kinds says what a part of the page is, by how its name ends.
func kinds() map[string]string {
	return map[string]string{".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8"}
}

// answer gives a part of the page.
func answer(w http.ResponseWriter, name string, data []byte) {
	w.Header().Set("Content-Type", kinds()[path.Ext(name)])
	w.Write(data)
}

// policy keeps the page from asking anybody but its own server. Engraved pictures
// stand in the drawing itself.
const policy = "default-src 'self'; img-src 'self' data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// A Server shows designs to browsers on this machine.
type Server struct {
	designs *Designs
	editor  *Editor // nil where none is stated
	streams chan struct{}
	// ended is closed when the server stops, so that no stream outlives it.
	ended chan struct{}
}

// mostStreams is how many pages may wait for news at the same time.
const mostStreams = 64

// NewServer shows designs, and opens their files in an editor if that isn't nil.
func NewServer(d *Designs, e *Editor) *Server {
	return &Server{designs: d, editor: e, streams: make(chan struct{}, mostStreams), ended: make(chan struct{})}
}

// Listen takes a port of the loopback address, any free one for 0. The error is one
// of the system.
func Listen(port int) (net.Listener, error) {
	return net.Listen("tcp4", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
}

// Serve answers on a listener until ctx ends. It must only be called once.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	_, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return err
	}
	server := &http.Server{
		Handler:           s.handler(port),
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      30 * time.Second, // a stream of events gives itself more, again and again
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    32 << 10,
	}
	stopped := make(chan struct{})
	go func() {
		defer close(stopped)
		<-ctx.Done()
		close(s.ended)
		wait, stop := context.WithTimeout(context.Background(), time.Second)
		defer stop()
		if server.Shutdown(wait) != nil {
			server.Close()
		}
	}()
	if err := server.Serve(l); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	<-stopped
	return nil
}

// handler answers all that is asked at a port.
func (s *Server) handler(port string) http.Handler {
	mux := http.NewServeMux()
	for at, file := range assets() {
		at := at
		if at == "/" {
			at = "/{$}"
		}
		mux.HandleFunc("GET "+at, func(w http.ResponseWriter, _ *http.Request) {
			data, err := page.ReadFile("page/" + file)
			if err != nil {
				http.NotFound(w, nil)
				return
			}
			answer(w, file, data)
		})
	}
	mux.HandleFunc("GET /"+pagelook.Name, func(w http.ResponseWriter, _ *http.Request) { answer(w, pagelook.Name, pagelook.CSS()) })
	mux.HandleFunc("GET /designs", s.list)
	mux.HandleFunc("GET /designs/{design}", s.scene)
	mux.HandleFunc("GET /designs/{design}/why", s.why)
	mux.HandleFunc("GET /events", s.events)
	mux.HandleFunc("POST /open", s.open)
	return guarded(port, mux)
}

// guarded lets through only what asks the server by its own address, and of pages
// only the server's own: not those of other origins, whose requests say so, nor those
// that have had the name of another host resolved to this machine.
func guarded(port string, next http.Handler) http.Handler {
	hosts := []string{"127.0.0.1:" + port, "localhost:" + port}
	if port == "80" { // a browser leaves it out
		hosts = append(hosts, "127.0.0.1", "localhost")
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		origin, site := r.Header.Values("Origin"), r.Header.Get("Sec-Fetch-Site")
		switch {
		case !oneOf(r.Host, hosts),
			len(origin) > 1 || len(origin) == 1 && origin[0] != "http://"+r.Host,
			len(origin) == 0 && r.Method != http.MethodGet,
			site != "" && site != "none" && site != "same-origin":
			w.WriteHeader(http.StatusForbidden)
		case r.URL.Path != path.Clean(r.URL.Path) || strings.ContainsAny(r.URL.Path, "\\\x00"):
			w.WriteHeader(http.StatusNotFound) // never told where it would lead
		default:
			next.ServeHTTP(w, r)
		}
	})
}

func oneOf(word string, words []string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}

func writeJSON(w http.ResponseWriter, v any) {
	w.Header().Set("Content-Type", "application/json")
	json.NewEncoder(w).Encode(v)
}

// list answers which designs there are.
func (s *Server) list(w http.ResponseWriter, _ *http.Request) {
	var out struct {
		Designs []string `json:"designs"`
		Editor  bool     `json:"editor"` // a place can be opened
	}
	out.Designs = called(s.designs.names)
	out.Editor = s.editor != nil
	writeJSON(w, out)
}

// called is what the page calls designs: their files without folders, but those of which
// two have one name as they were named.
func called(names []string) []string {
	base := func(name string) string { return path.Base(strings.ReplaceAll(name, "\\", "/")) }
	many := map[string]int{}
	for _, name := range names {
		many[base(name)]++
	}
	all := make([]string, len(names))
	for i, name := range names {
		if all[i] = base(name); many[all[i]] > 1 {
			all[i] = source.Plain(name)
		}
	}
	return all
}

// numbered is the design that an address names; -1 for what is no number.
func numbered(r *http.Request) int {
	i, err := strconv.Atoi(r.PathValue("design"))
	if err != nil {
		return -1
	}
	return i
}

// scene answers with what is shown of a design, and its revision in a header.
func (s *Server) scene(w http.ResponseWriter, r *http.Request) {
	d, ok := s.designs.at(numbered(r))
	if !ok {
		w.WriteHeader(http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("Foredge-Revision", strconv.Itoa(d.revision))
	w.Write(d.body)
}

// why answers where the value of a dimension comes from.
func (s *Server) why(w http.ResponseWriter, r *http.Request) {
	text, ok := s.designs.why(numbered(r), r.URL.Query().Get("name"))
	if !ok {
		w.WriteHeader(http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	io.WriteString(w, text)
}

// mostAsked is how long the body of a request may be, in bytes.
const mostAsked = 1 << 10

// open opens a place of a design in the editor.
func (s *Server) open(w http.ResponseWriter, r *http.Request) {
	var at struct{ Design, File, Line, Column int }
	body := http.MaxBytesReader(w, r.Body, mostAsked)
	if err := json.NewDecoder(body).Decode(&at); err != nil || at.Line < 1 || at.Column < 1 {
		w.WriteHeader(http.StatusBadRequest)
		return
	}
	file := s.designs.path(at.Design, at.File)
	if s.editor == nil || file == "" {
		w.WriteHeader(http.StatusNotFound)
		return
	}
	if err := s.editor.Open(file, at.Line, at.Column); err != nil {
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		w.WriteHeader(http.StatusBadGateway)
		io.WriteString(w, err.Error())
		return
	}
	w.WriteHeader(http.StatusNoContent)
}
