package site

import (
	"crypto/sha256"
	"encoding/base64"
	"net/http"
	"net/url"
	"strings"
)

// Attach names a file that is to be kept rather than shown.
func Attach(w http.ResponseWriter, kind, name string) {
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Disposition", "attachment; filename*=UTF-8''"+url.PathEscape(name))
}

// SendSheet sends a page to print. It brings a style sheet inside, which the
// policy allows by its digest.
func SendSheet(w http.ResponseWriter, page []byte) error {
	w.Header().Set("Content-Security-Policy", "default-src 'none'; base-uri 'none'; frame-ancestors 'none'; style-src "+styleDigest(string(page)))
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, err := w.Write(page)
	return err
}

// styleDigest is the source expression (W3C CSP level 3) that allows the one
// style element of a page.
func styleDigest(page string) string {
	_, rest, _ := strings.Cut(page, "<style>")
	style, _, found := strings.Cut(rest, "</style>")
	if !found {
		return "'none'"
	}
	sum := sha256.Sum256([]byte(style))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
