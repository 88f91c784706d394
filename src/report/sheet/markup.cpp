#include "report/sheet/markup.hpp"

#include "base/utf8.hpp"

#include <stdexcept>

namespace platewright::report {

std::string escaped(std::string_view text) {
    std::string safe;
    for (const char c : base::harmless(text, base::Lines::keep)) {
        switch (c) {
        case '&':
            safe += "&amp;";
            break;
        case '<':
            safe += "&lt;";
            break;
        case '>':
            safe += "&gt;";
            break;
        case '"':
            safe += "&#34;";
            break;
        case '\'':
            safe += "&#39;";
            break;
        default:
            safe += c;
        }
    }
    return safe;
}

void Markup::begin(std::string_view element, std::initializer_list<Attribute> attributes) {
    text_ += '<';
    text_ += element;
    for (const auto& [name, value] : attributes) {
        text_ += ' ';
        text_ += name;
        text_ += "=\"";
        text_ += escaped(value);
        text_ += '"';
    }
}

Markup& Markup::open(std::string_view element, std::initializer_list<Attribute> attributes) {
    begin(element, attributes);
    text_ += '>';
    open_ += element;
    open_ += '/';
    return *this;
}

Markup& Markup::close(std::string_view element) {
    const std::string last = std::string(element) + '/';
    if (!open_.ends_with(last))
        throw std::invalid_argument("an element is closed that was not opened last");
    open_.resize(open_.size() - last.size());
    text_ += "</";
    text_ += element;
    text_ += ">\n";
    return *this;
}

Markup& Markup::alone(std::string_view element, std::initializer_list<Attribute> attributes) {
    begin(element, attributes);
    text_ += "/>";
    return *this;
}

Markup& Markup::text(std::string_view words) {
    text_ += escaped(words);
    return *this;
}

Markup& Markup::said(std::string_view element, std::string_view words,
                     std::initializer_list<Attribute> attributes) {
    return open(element, attributes).text(words).close(element);
}

Markup& Markup::raw(std::string_view markup) {
    text_ += markup;
    return *this;
}

} // namespace platewright::report
