package charset

import "testing"

func TestText(t *testing.T) {
	for in, want := range map[string]string{
		"18 °C":                                "18 °C",
		"\xef\xbb\xbf18 °C":                    "18 °C",
		"\xef\xbb\xbf18 \xff":                  "18 \uFFFD",
		"\xff\xfe1\x008\x00 \x00\xb0\x00C\x00": "18 °C",
		"\xfe\xff\x001\x008\x00 \x00\xb0\x00C": "18 °C",
		"18 \xb0C \x96 \x81":                   "18 °C – \uFFFD",
		"a\r\nb\rc\nd":                         "a\nb\nc\nd",
		"a\x00b":                               "a\uFFFDb",
		"":                                     "",
	} {
		if got := Text([]byte(in)); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}
