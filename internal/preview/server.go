package preview

import (
	_ "embed"
	"fmt"
	"net/http"
	"net/url"
	"path"
	"slices"
	"strconv"
	"strings"
)

// Addresses of the preview itself. No folder of the site begins with a dot.
const (
	deskPage   = "/.preview/"
	scriptPage = "/.preview/refresh.js"
	stylesPage = "/.preview/preview.css"
	eventsPage = "/.preview/events"
)

//go:embed refresh.js
var script string

//go:embed preview.css
var styles string

// server answers browsers at this machine.
type server struct {
	desk    *desk
	hosts   []string        // what Host may say
	done    <-chan struct{} // closed when the server stops
	streams chan struct{}   // a place for each page that waits for events
}

// hosts are the names under which the server may be asked. A name of somebody
// else that leads to a loopback address is not among them, so no foreign page can
// read what is served here (DNS rebinding).
func hosts(port int) []string {
	p := ":" + strconv.Itoa(port)
	names := []string{"127.0.0.1" + p, "[::1]" + p, "localhost" + p}
	if port == 80 {
		names = append(names, "127.0.0.1", "[::1]", "localhost")
	}
	return names
}

// policy lets a page load what the server itself has, and nothing run that stands
// in the page.
const policy = "default-src 'none'; img-src 'self' data:; style-src 'self'; font-src 'self'; media-src 'self'; " +
	"script-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; frame-src 'self'; frame-ancestors 'self'; " +
	"base-uri 'none'; form-action 'none'"

// drawingPolicy is for a drawing opened by itself, which carries its own styles.
const drawingPolicy = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'self'"

func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Content-Security-Policy", policy)
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Referrer-Policy", "no-referrer")
	if code, why := s.refuses(r); code != 0 {
		if code == http.StatusMethodNotAllowed {
			h.Set("Allow", "GET, HEAD")
		}
		plain(w, code, why)
		return
	}
	now := s.desk.now()
	defer func() {
		if v := recover(); v != nil {
			now.broken(w, fmt.Sprintf("%s: %v", r.URL.Path, v))
		}
	}()
	switch r.URL.Path {
	case eventsPage:
		s.events(w, r)
	case scriptPage:
		send(w, http.StatusOK, ".js", []byte(script))
	case stylesPage:
		send(w, http.StatusOK, ".css", []byte(styles))
	case deskPage:
		html, err := now.everything(now.Site.Kitchen.Name)
		now.page(w, answer{status: http.StatusOK, html: html, err: err, path: deskPage})
	default:
		now.file(w, r)
	}
}

// refuses says why a request is not answered, with a status, or 0.
func (s *server) refuses(r *http.Request) (int, string) {
	switch {
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		return http.StatusMethodNotAllowed, "a preview is only read: GET and HEAD"
	case !slices.Contains(s.hosts, strings.ToLower(r.Host)):
		return http.StatusMisdirectedRequest, "this server answers only to its own address on this machine"
	case !s.own(r.Header.Values("Origin")):
		return http.StatusForbidden, "a page of another site asks for this"
	case fromElsewhere(r.Header):
		return http.StatusForbidden, "a page of another site asks for this"
	case r.ContentLength != 0:
		return http.StatusRequestEntityTooLarge, "nothing can be sent to a preview"
	}
	return 0, ""
}

// fromElsewhere reports whether a page of another site, or of another server of this
// machine, loads something into itself; browsers say so (Fetch Metadata Request Headers,
// W3C). A link that leads here from elsewhere is followed.
func fromElsewhere(h http.Header) bool {
	site := h.Get("Sec-Fetch-Site")
	return site != "" && site != "same-origin" && site != "none" && h.Get("Sec-Fetch-Mode") != "navigate"
}

// own reports whether the origins are the server's.
func (s *server) own(origins []string) bool {
	return !slices.ContainsFunc(origins, func(origin string) bool {
		host, isHTTP := strings.CutPrefix(strings.ToLower(origin), "http://")
		return !isHTTP || !slices.Contains(s.hosts, host)
	})
}

// file answers with one of the outputs.
func (s *state) file(w http.ResponseWriter, r *http.Request) {
	at := r.URL.Path
	slug, _, _ := strings.Cut(strings.TrimPrefix(at, "/"), "/")
	key := strings.TrimPrefix(at, "/")
	if key == "" || strings.HasSuffix(key, "/") {
		key += "index.html"
	}
	output, there := s.outputs[key]
	isPage := path.Ext(key) == ".html"
	_, keptOnly := r.URL.Query()["kept"]
	stands := slug
	if key == "index.html" {
		stands = ""
	}
	switch {
	case isPage && !keptOnly && (stands != "" || key == "index.html") && s.hasError(stands):
		kept := ""
		if there {
			kept = (&url.URL{Path: at}).EscapedPath() + "?kept"
		}
		html, err := s.mend(stands, kept)
		s.page(w, answer{http.StatusOK, html, err, slug, at})
	case there && isPage:
		html, err := s.made.make(output)
		if keptOnly && err == nil {
			send(w, http.StatusOK, ".html", html)
			return
		}
		s.page(w, answer{http.StatusOK, html, err, slug, at})
	case there:
		data, err := s.made.make(output)
		if err != nil {
			plain(w, http.StatusInternalServerError, err.Error())
			return
		}
		send(w, http.StatusOK, path.Ext(key), data)
	default:
		s.lost(w, r, key)
	}
}

// lost leads from an address without its last slash, or with the folder that the
// site will stand in, to the page; and answers any other with the site's own page
// for it.
func (s *state) lost(w http.ResponseWriter, r *http.Request, key string) {
	to := key + "/"
	_, there := s.outputs[to+"index.html"]
	if u, err := url.Parse(s.Site.Kitchen.Address); !there && err == nil && len(u.Path) > 1 {
		root := strings.Trim(u.Path, "/") + "/"
		var inside bool
		if to, inside = strings.CutPrefix(strings.TrimPrefix(r.URL.Path, "/"), root); inside {
			to = strings.TrimLeft(to, "/") // or it would be the name of a host
			_, there = s.outputs[path.Join(to, "index.html")]
			_, asFile := s.outputs[to]
			there = there || asFile
		}
	}
	if there || slices.Contains(s.Slugs, key) {
		http.Redirect(w, r, (&url.URL{Path: "/" + to}).EscapedPath(), http.StatusFound)
		return
	}
	html := []byte("<!DOCTYPE html>\n<title>404</title>\n")
	var err error
	if output, has := s.outputs["404.html"]; has {
		html, err = s.made.make(output)
	}
	s.page(w, answer{http.StatusNotFound, html, err, "", r.URL.Path})
}

// answer is a page before the preview's own parts are put into it.
type answer struct {
	status int
	html   []byte
	err    error
	slug   string // of the trial it belongs to
	path   string
}

// page sends a page with the band above it.
func (s *state) page(w http.ResponseWriter, a answer) {
	band, err := s.band(a.slug, a.path)
	if a.err == nil {
		a.err = err
	}
	if a.err != nil {
		s.broken(w, a.err.Error())
		return
	}
	send(w, a.status, ".html", insert(a.html, s.head(), band))
}

// head is what loads the preview's styles and its script.
func (s *state) head() []byte {
	return fmt.Appendf(nil, "<link rel=\"stylesheet\" href=\"%s\">\n<script src=\"%s?at=%d\" defer></script>\n", stylesPage, scriptPage, s.version)
}

// broken answers with what went wrong. The page loads again like any other when
// the cause is mended.
func (s *state) broken(w http.ResponseWriter, what string) {
	html, err := s.safely(what)
	if err != nil {
		plain(w, http.StatusInternalServerError, what)
		return
	}
	send(w, http.StatusInternalServerError, ".html", insert(html, s.head(), nil))
}

// safely makes the page of a failure; should that fail too, it is an error.
func (s *state) safely(what string) (html []byte, err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("%v", v)
		}
	}()
	return s.failed(what)
}

func plain(w http.ResponseWriter, status int, why string) {
	send(w, status, ".txt", []byte(why+"\n"))
}

func send(w http.ResponseWriter, status int, extension string, data []byte) {
	h := w.Header()
	h.Set("Content-Type", contentType(extension))
	h.Set("Content-Length", strconv.Itoa(len(data)))
	if extension == ".svg" {
		h.Set("Content-Security-Policy", drawingPolicy)
	}
	w.WriteHeader(status)
	_, _ = w.Write(data) // a browser that has gone asks again
}

func contentType(extension string) string {
	switch extension {
	case ".html":
		return "text/html; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".json":
		return "application/json"
	case ".webmanifest":
		return "application/manifest+json"
	case ".csv":
		return "text/csv; charset=utf-8"
	case ".md":
		return "text/markdown; charset=utf-8"
	case ".txt":
		return "text/plain; charset=utf-8"
	case ".xml":
		return "application/xml"
	case ".svg":
		return "image/svg+xml"
	case ".jpg":
		return "image/jpeg"
	case ".png":
		return "image/png"
	case ".webp":
		return "image/webp"
	case ".woff2":
		return "font/woff2"
	}
	return "application/octet-stream"
}
