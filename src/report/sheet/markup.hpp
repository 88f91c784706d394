#pragma once
#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>

namespace platewright::report {

/// A value of an attribute; it is escaped when it is written.
using Attribute = std::pair<std::string_view, std::string>;

/// Text as it may stand in HTML and SVG, in element and in attribute: & < > " ' are escaped, and
/// what is no UTF-8, or acts unseen (base::harmless), is U+FFFD. Line breaks stay.
std::string escaped(std::string_view text);

/// Markup written element by element. Whatever a person or a ledger said goes through `text` or an
/// attribute, and so is escaped; there is no way past it but `raw`.
/// Throws std::invalid_argument for an element that is closed and was not opened last.
class Markup {
public:
    Markup& open(std::string_view element, std::initializer_list<Attribute> attributes = {});
    Markup& close(std::string_view element);
    /// Without content: <meta>, <circle/>.
    Markup& alone(std::string_view element, std::initializer_list<Attribute> attributes = {});
    Markup& text(std::string_view words);
    /// An element with nothing but words in it.
    Markup& said(std::string_view element, std::string_view words,
                 std::initializer_list<Attribute> attributes = {});
    /// As it is: our own style and script, and what another Markup wrote.
    Markup& raw(std::string_view markup);
    const std::string& str() const { return text_; }

private:
    void begin(std::string_view element, std::initializer_list<Attribute> attributes);
    std::string text_;
    std::string open_; ///< elements that are open, a slash after each
};

} // namespace platewright::report
