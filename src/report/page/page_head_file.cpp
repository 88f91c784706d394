#include "report/page/page_head_file.hpp"

#include "wording/language.hpp"

#include <fmt/format.h>
#include <string_view>

namespace platewright::report {
namespace {

/// The page's look. Colours as in plot/palette.hpp's light set; on paper nothing but ink.
constexpr std::string_view k_page_style = R"css(
:root{--ground:#f4ecdf;--panel:#fffbf2;--ink:#2a1c10;--faint:#6b5a48;--line:#dccdb6;--accent:#7a3a12}
*{box-sizing:border-box}
body{margin:0;background:var(--ground);color:var(--ink);font:17px/1.5 Lato,Carlito,"Helvetica Neue",Arial,sans-serif}
main,header,footer{max-width:60rem;margin:0 auto;padding:1rem 1.25rem}
h1{font-size:2.4rem;margin:.5rem 0 0;line-height:1.15}
h2{font-size:1.5rem;margin:2.2rem 0 .6rem;border-bottom:2px solid var(--line)}
h3{font-size:1.1rem;margin:1.4rem 0 .3rem}
p{margin:.4rem 0}
.faint{color:var(--faint);font-size:.9rem}
a{color:var(--accent)}
nav a{margin-right:1.2rem}
.card{background:var(--panel);border:1px solid var(--line);border-radius:.5rem;padding:.7rem 1rem;margin:.7rem 0;break-inside:avoid}
.card:target{outline:3px solid var(--accent)}
.card h3{margin:0 0 .2rem}
.note{white-space:pre-line}
.modes span{display:inline-block;margin-right:1.4rem}
.modes b{font-size:1.15rem}
figure{margin:.8rem 0;background:#fff;border:1px solid var(--line);border-radius:.5rem;padding:.5rem;break-inside:avoid}
figcaption{font-size:.9rem;color:var(--faint);padding:.2rem .4rem}
svg{display:block;width:100%;height:auto;font-family:Lato,Carlito,"Helvetica Neue",Arial,sans-serif}
.map{max-width:26rem}
.beside{display:grid;grid-template-columns:repeat(auto-fit,minmax(20rem,1fr));gap:0 1.5rem;align-items:start}
.hot{fill:transparent;cursor:pointer;pointer-events:all}
.hot:hover,a:focus .hot{stroke:var(--accent);stroke-width:2}
table{border-collapse:collapse;width:100%;margin:.6rem 0;font-size:.95rem}
th,td{text-align:left;padding:.25rem .6rem .25rem 0;border-bottom:1px solid var(--line);vertical-align:top}
th{color:var(--faint);font-weight:400}
.n{text-align:right;font-variant-numeric:tabular-nums}
audio{height:2.2rem;vertical-align:middle;max-width:100%}
.tap{display:inline-block;margin:.3rem 1.2rem .1rem 0}
.tap span{display:block;font-size:.85rem;color:var(--faint)}
#pointed{position:fixed;z-index:9;pointer-events:none;background:var(--ink);color:#fff;border-radius:.35rem;padding:.3rem .6rem;font-size:.9rem;max-width:20rem;display:none}
.scroll{overflow-x:auto}
@media print{
body{background:#fff;font-size:10.5pt}
main,header,footer{max-width:none;padding:0}
nav,.tap,#pointed{display:none}
.card,figure{border-color:#999;background:#fff}
h2,h3{break-after:avoid}
table,tr{break-inside:avoid}
a{color:inherit;text-decoration:none}
.map{max-width:8cm}
@page{margin:16mm}
}
)css";

/// What is pointed at, or reached by keys, says its words beside it; one tap at a time is heard.
constexpr std::string_view k_page_script = R"js(
(function(){"use strict";
var box=document.getElementById("pointed");
function show(spot){
box.textContent=spot.getAttribute("data-words");
box.style.display="block";
var at=spot.getBoundingClientRect(),mine=box.getBoundingClientRect();
box.style.left=Math.max(4,Math.min(innerWidth-mine.width-4,at.left+at.width/2-mine.width/2))+"px";
box.style.top=(at.top-mine.height-6>4?at.top-mine.height-6:at.bottom+6)+"px";
}
function hide(){box.style.display="none";}
document.querySelectorAll(".hot").forEach(function(spot){
spot.addEventListener("pointerenter",function(){show(spot);});
spot.addEventListener("pointerleave",hide);
var link=spot.closest("a");
if(link){link.addEventListener("focus",function(){show(spot);});link.addEventListener("blur",hide);}
});
var heard=document.querySelectorAll("audio");
heard.forEach(function(one){one.addEventListener("play",function(){
heard.forEach(function(other){if(other!==one)other.pause();});});});
})();
)js";

/// Of the script above, for the page's Content-Security-Policy: nothing else may run in it
/// (tests/whole/record.py computes it anew).
constexpr std::string_view k_page_script_hash =
    "sha256-YFFAsCvg/2KvnuUvHpifmyj3zXmEaoZdL14NqH0K4hk=";

} // namespace

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
