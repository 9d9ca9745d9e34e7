package view

import (
	"encoding/json"
	"fmt"
	"net/http"
	"time"
)

// quietFor is after how long a stream on which nothing happens says that it is there.
const quietFor = 15 * time.Second

// writeWithin is how long a page may take to accept what it is told.
const writeWithin = 10 * time.Second

// events tells a page which designs are new, each time by the revisions of all: a
// page that was slow is told the last ones only, so that nothing waits for it here.
func (s *Server) events(w http.ResponseWriter, r *http.Request) {
	select {
	case s.streams <- struct{}{}:
		defer func() { <-s.streams }()
	default:
		w.WriteHeader(http.StatusServiceUnavailable)
		return
	}
	out := http.NewResponseController(w)
	out.SetReadDeadline(time.Time{}) // the stream outlives the time that a request may take
	w.Header().Set("Content-Type", "text/event-stream")
	tick := time.NewTicker(quietFor)
	defer tick.Stop()
	send := func(text string) bool {
		out.SetWriteDeadline(time.Now().Add(writeWithin))
		_, err := fmt.Fprint(w, text)
		return err == nil && out.Flush() == nil
	}
	revisions, changed := s.designs.revisions()
	for {
		data, err := json.Marshal(revisions)
		if err != nil || !send("event: revisions\ndata: "+string(data)+"\n\n") {
			return
		}
		for same := true; same; {
			select {
			case <-changed:
				revisions, changed = s.designs.revisions()
				same = false
			case <-tick.C:
				if !send(": still here\n\n") {
					return
				}
			case <-r.Context().Done():
				return
			case <-s.ended:
				return
			}
		}
	}
}
