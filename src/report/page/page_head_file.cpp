#include "report/page/page_head_file.hpp"

#include "report/page/page_style_file.hpp"
#include "wording/language.hpp"

#include <fmt/format.h>

namespace platewright::report {

void put_head(Markup& markup, const std::string& title) {
    markup.raw("<!DOCTYPE html>\n");
    markup.open("html", {{"lang", std::string(wording::to_code(wording::spoken()))}}).open("head");
    markup.alone("meta", {{"charset", "utf-8"}});
    markup.alone("meta",
                 {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
    markup.alone(
        "meta",
        {{"http-equiv", "Content-Security-Policy"},
         {"content",
          fmt::format(
              "default-src 'none'; style-src 'unsafe-inline'; script-src '{}'; media-src data:; "
              "base-uri 'none'; form-action 'none'",
              k_page_script_hash)}});
    markup.said("title", title);
    markup.open("style").raw(k_page_style).close("style").close("head");
}

void put_script(Markup& markup) { markup.open("script").raw(k_page_script).close("script"); }

} // namespace platewright::report
