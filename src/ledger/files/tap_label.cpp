#include "ledger/files/tap_label.hpp"

#include "base/text.hpp"

#include <fmt/format.h>

namespace platewright::ledger {
namespace {

constexpr std::string_view k_head = "platewright tap";
constexpr std::string_view k_between = "; ";
constexpr std::string_view k_facts = "; facts ";

/// Takes "<name> <value>" off the front of a text, after its separator.
std::optional<std::string_view> take(std::string_view& text, std::string_view name) {
    const std::string begin = fmt::format("{}{} ", k_between, name);
    if (!text.starts_with(begin))
        return std::nullopt;
    text.remove_prefix(begin.size());
    const std::string_view value = text.substr(0, text.find(k_between));
    text.remove_prefix(value.size());
    return value;
}

std::optional<std::int64_t> whole_number(std::optional<std::string_view> text) {
    return text ? base::parse_whole(*text) : std::nullopt;
}

} // namespace

std::string to_text(const TapLabel& label) {
    return fmt::format(
        "{}; session {}; at {}; onset frame {}; onset index {}; spot {}; verdict {}{}", k_head,
        label.session_uid, base::to_iso(label.at), label.onset_frame, label.onset_index,
        taps::to_word(label.spot), taps::to_word(label.verdict),
        label.facts.empty() ? "" : std::string{k_facts} + label.facts);
}

std::optional<TapLabel> label_from_text(std::string_view text) {
    if (!text.starts_with(k_head))
        return std::nullopt;
    text.remove_prefix(k_head.size());
    const auto session = take(text, "session");
    const auto at = take(text, "at");
    const auto frame = whole_number(take(text, "onset frame"));
    const auto index = whole_number(take(text, "onset index"));
    const auto spot = take(text, "spot");
    const auto verdict = take(text, "verdict");
    if (!session || !at || !frame || !index || !spot || !verdict)
        return std::nullopt;
    const auto moment = base::from_iso(*at);
    const auto place = taps::spot_from_word(*spot);
    const auto judged = taps::verdict_from_word(*verdict);
    if (!moment || !place || !judged)
        return std::nullopt;
    const std::string_view facts = text.starts_with(k_facts) ? text.substr(k_facts.size()) : "";
    return TapLabel{std::string{*session}, *moment, *frame, *index, *place, *judged,
                    std::string{facts}};
}

} // namespace platewright::ledger
