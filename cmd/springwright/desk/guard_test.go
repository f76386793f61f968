package desk

import (
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// TestGuard sends what the page, other pages, other programs and other names of this machine send.
func TestGuard(t *testing.T) {
	const host, token = "127.0.0.1:4711", "0123456789abcdef0123456789abcdef"
	reached := false
	handler := guard(host, token, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		reached = true
		if _, err := io.Copy(io.Discard, r.Body); err != nil {
			w.WriteHeader(http.StatusRequestEntityTooLarge)
		}
	}))
	cookie := func(r *http.Request) {
		r.AddCookie(&http.Cookie{Name: "springwright-4711", Value: token})
	}
	tests := []struct {
		name    string
		method  string
		path    string
		body    string
		change  func(*http.Request)
		status  int
		reached bool
	}{
		{"the address that is printed", "GET", "/?token=" + token, "", nil, http.StatusSeeOther, false},
		{"a wrong token", "GET", "/?token=" + strings.Repeat("0", 32), "", nil, http.StatusForbidden, false},
		{"a token in a post", "POST", "/api/v1/form?token=" + token, "", nil, http.StatusForbidden, false},
		{"no token", "GET", "/", "", nil, http.StatusForbidden, false},
		{"the page", "GET", "/", "", cookie, http.StatusOK, true},
		{"the page by its other name", "GET", "/", "", func(r *http.Request) { cookie(r); r.Host = "localhost:4711" }, http.StatusOK, true},
		{"a name that points here", "GET", "/", "", func(r *http.Request) { cookie(r); r.Host = "rebound.example:4711" }, http.StatusMisdirectedRequest, false},
		{"another port", "GET", "/", "", func(r *http.Request) { cookie(r); r.Host = "127.0.0.1:4712" }, http.StatusMisdirectedRequest, false},
		{"a post of the page", "POST", "/", "{}", func(r *http.Request) {
			cookie(r)
			r.Header.Set("Origin", "http://"+host)
			r.Header.Set("Sec-Fetch-Site", "same-origin")
		}, http.StatusOK, true},
		{"a post of another site", "POST", "/", "{}", func(r *http.Request) { cookie(r); r.Header.Set("Sec-Fetch-Site", "cross-site") }, http.StatusForbidden, false},
		{"a post of another server of this machine", "POST", "/", "{}", func(r *http.Request) { cookie(r); r.Header.Set("Sec-Fetch-Site", "same-site") }, http.StatusForbidden, false},
		{"a foreign origin", "GET", "/", "", func(r *http.Request) { cookie(r); r.Header.Set("Origin", "http://evil.example") }, http.StatusForbidden, false},
		{"a wrong cookie", "GET", "/", "", func(r *http.Request) {
			r.AddCookie(&http.Cookie{Name: "springwright-4711", Value: token[:31] + "0"})
		}, http.StatusForbidden, false},
		{"too large a body", "POST", "/", strings.Repeat("x", mostBodyBytes+1), cookie, http.StatusRequestEntityTooLarge, true},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			reached = false
			r := httptest.NewRequest(test.method, test.path, strings.NewReader(test.body))
			r.Host = host
			if test.change != nil {
				test.change(r)
			}
			w := httptest.NewRecorder()
			handler.ServeHTTP(w, r)
			if w.Code != test.status || reached != test.reached {
				t.Errorf("got status %d, reached %v; want %d, %v", w.Code, reached, test.status, test.reached)
			}
			if !strings.Contains(w.Header().Get("Content-Security-Policy"), "default-src 'none'") || w.Header().Get("X-Content-Type-Options") != "nosniff" {
				t.Error("an answer has no content policy")
			}
		})
	}
}

// TestTokenLeavesTheAddress: the address with the token gives a cookie that only this server gets.
func TestTokenLeavesTheAddress(t *testing.T) {
	token := newToken()
	handler := guard("127.0.0.1:4711", token, http.NotFoundHandler())
	r := httptest.NewRequest("GET", "/?token="+token, nil)
	r.Host = "127.0.0.1:4711"
	w := httptest.NewRecorder()
	handler.ServeHTTP(w, r)
	if to := w.Header().Get("Location"); to != "/" {
		t.Errorf("sent on to %q, want /", to)
	}
	cookies := w.Result().Cookies()
	if len(cookies) != 1 || !cookies[0].HttpOnly || cookies[0].SameSite != http.SameSiteStrictMode || cookies[0].Value != token {
		t.Errorf("got cookies %v, want one that is strict and for HTTP only", cookies)
	}
}
