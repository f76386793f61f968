package desk

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"net/http"
	"strings"
)

// mostBodyBytes bounds a request: a case file is at most 256 KiB (see package casefile), and JSON
// around it adds its quotes.
const mostBodyBytes = 1 << 20

// mostPictureBytes bounds a request with a picture in it: telephones save up to 25 MB, a scan without loss has
// more (choice).
const mostPictureBytes = 40 << 20

// mostBytes bounds the body of a request.
func mostBytes(r *http.Request) int64 {
	switch {
	case r.Method != http.MethodPost:
	case r.URL.Path == picturePath:
		return mostPictureBytes
	case r.URL.Path == markPath:
		return mostHandedBytes
	case strings.HasPrefix(r.URL.Path, ordersPath):
		return mostOrdersBytes
	}
	return mostBodyBytes
}

// contentPolicy lets the page load what this server serves and nothing else, and keeps other
// pages from framing it.
const contentPolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; " +
	"connect-src 'self'; object-src 'none'; frame-src 'none'; form-action 'none'; base-uri 'none'; frame-ancestors 'none'"

// newToken is a secret that nobody guesses: 128 random bits.
func newToken() string {
	var b [16]byte
	rand.Read(b[:]) // never fails: see crypto/rand
	return hex.EncodeToString(b[:])
}

// guard lets only the page of this server through to next.
//
// A page of another site could have its name point at this machine (DNS rebinding): Host tells.
// It could post here from its own origin: http.CrossOriginProtection tells. A program of
// another user of this machine could ask: it does not know the token, which is in the address
// that the browser is opened with and from then on in a cookie that only this server sees.
func guard(host, token string, next http.Handler) http.Handler {
	_, port, _ := strings.Cut(host, ":")
	cookie := "springwright-" + port // cookies are not kept apart by port
	same := func(given string) bool { return subtle.ConstantTimeCompare([]byte(given), []byte(token)) == 1 }

	authorised := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if given := r.URL.Query().Get("token"); given != "" {
			if !same(given) || r.Method != http.MethodGet {
				http.Error(w, "this address is not the one that springwright printed", http.StatusForbidden)
				return
			}
			http.SetCookie(w, &http.Cookie{Name: cookie, Value: token, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
			// The token leaves the address bar, and with it the browser's history.
			http.Redirect(w, r, r.URL.Path, http.StatusSeeOther)
			return
		}
		if c, err := r.Cookie(cookie); err != nil || !same(c.Value) {
			http.Error(w, "open the address that springwright printed when it started", http.StatusForbidden)
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, mostBytes(r))
		next.ServeHTTP(w, r)
	})
	crossOrigin := http.NewCrossOriginProtection().Handler(authorised)

	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		header := w.Header()
		header.Set("Content-Security-Policy", contentPolicy)
		header.Set("X-Content-Type-Options", "nosniff")
		header.Set("Referrer-Policy", "no-referrer")
		header.Set("Cross-Origin-Opener-Policy", "same-origin")
		header.Set("Cross-Origin-Resource-Policy", "same-origin")
		header.Set("Cache-Control", "no-store")
		if r.Host != host && r.Host != "localhost:"+port {
			http.Error(w, "this server answers its own machine only", http.StatusMisdirectedRequest)
			return
		}
		// Fetches without these headers pass CrossOriginProtection: an Origin must be ours.
		if origin := r.Header.Get("Origin"); origin != "" && origin != "http://"+r.Host {
			http.Error(w, "requests of other pages are refused", http.StatusForbidden)
			return
		}
		crossOrigin.ServeHTTP(w, r)
	})
}
