package web

import _ "embed"

// Page is the page as an html/template.
//
//go:embed page.html
var Page string

// Style is the page's style sheet.
//
//go:embed style.css
var Style string
