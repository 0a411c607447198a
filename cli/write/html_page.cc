#include "cli/write/html_page.h"

#include "cli/write/html_style.h"

namespace easewright {

void begin_html(Markup& page, std::string_view title, std::string_view looks) {
  page.raw("<!DOCTYPE html>\n").open("html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\"");
  page.open("head").raw("<meta charset=\"utf-8\"/>\n");
  page.raw("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n");
  // A browser that would fetch anything after all is told not to.
  page.raw(
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src "
      "'unsafe-inline'\"/>\n");
  page.element("title", title);
  page.open("style").raw(html_style()).raw(looks).close().close().open("body");
}

void end_html(Markup& page, std::string_view footer) {
  page.element("footer class=\"small\"", footer);
  page.close().close();
}

}  // namespace easewright
