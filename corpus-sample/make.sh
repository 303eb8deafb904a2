#!/usr/bin/env bash
# Rebuilds every PDF of the sample and gold.jsonl from src/.
# Needs go, pdflatex (with babel-german, babel-french, lm, psnfss), chromium,
# pdftoppm and pdftotext. usage: ./make.sh [NAME…]   (all papers without one)
set -euo pipefail
cd "$(dirname "$0")"
export SOURCE_DATE_EPOCH=1704067200 FORCE_SOURCE_DATE=1 TZ=UTC
build=${BUILD:-$(mktemp -d)}
mkdir -p "$build" pdf
go build -o "$build/typeset" ./typeset
"$build/typeset" write src "$build"

# print_page NAME: the browser's PDF of a page.
print_page() {
	chromium --headless --no-sandbox --disable-gpu --no-pdf-header-footer \
		--user-data-dir="$build/browser" --print-to-pdf="$build/$1.pdf" \
		"file://$build/$1.html" 2>"$build/$1.log" || { cat "$build/$1.log" >&2; exit 1; }
}

names=("$@")
if [ ${#names[@]} -eq 0 ]; then
	for f in src/*.paper; do f=${f##*/}; names+=("${f%.paper}"); done
fi
for name in "${names[@]}"; do
	if [ -f "$build/$name.tex" ]; then
		for _ in 1 2; do
			(cd "$build" && pdflatex -interaction=batchmode -halt-on-error "$name.tex" >/dev/null) ||
				{ grep -A3 '^!' "$build/$name.log" >&2; exit 1; }
		done
	else
		print_page "$name"
		"$build/typeset" keep "$build" "$name"
		print_page "$name"
		"$build/typeset" still "$build/$name.pdf"
	fi
	if grep -q '^layout: tex-scan$' "src/$name.paper"; then
		rm -f "$build/$name"-*.pgm
		pdftoppm -r 200 -gray "$build/$name.pdf" "$build/$name"
		"$build/typeset" scan "pdf/$name.pdf" "$build/$name"-*.pgm
	else
		cp "$build/$name.pdf" "pdf/$name.pdf"
	fi
done
"$build/typeset" gold src "$build" gold.jsonl
