#include "main/plate/hand_options.hpp"

#include "base/text.hpp"
#include "plate/shape/spots.hpp"
#include "trends/review/flex_review.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace platewright::cli {
namespace {

using base::Fault;

std::vector<std::string> parts_of(const std::string& text, std::size_t most) {
    std::vector<std::string> parts;
    std::size_t begin = 0;
    while (parts.size() + 1 < most) {
        const auto colon = text.find(':', begin);
        if (colon == std::string::npos)
            break;
        parts.push_back(text.substr(begin, colon - begin));
        begin = colon + 1;
    }
    parts.push_back(text.substr(begin));
    return parts;
}

/// PLACE:WORDS or X:Y:WORDS; the words may hold colons.
base::Result<ledger::PinRecord> pin_of(const std::string& text, const plate::Outline& outline) {
    ledger::PinRecord pin;
    const auto named = parts_of(text, 2);
    const auto numbered = parts_of(text, 3);
    if (const auto place =
            named.size() == 2 ? plate::named_place(outline, named[0]) : std::nullopt) {
        pin.at = *place;
        pin.text = base::trimmed(named[1]);
    } else {
        const auto x = numbered.size() == 3 ? base::parse_number(numbered[0]) : std::nullopt;
        const auto y = numbered.size() == 3 ? base::parse_number(numbered[1]) : std::nullopt;
        if (!x || !y)
            return Fault{fmt::format(
                "--pin “{}”: give X:Y:WORDS in mm, or PLACE:WORDS with a place's name such as "
                "upper_bout_left. Nothing was stored.",
                text)};
        pin.at = {*x, *y};
        pin.text = base::trimmed(numbered[2]);
    }
    if (pin.text.empty() || !base::is_plain_text(pin.text))
        return Fault{fmt::format("--pin “{}” needs a word or two. Nothing was stored.", text)};
    if (!outline.holds(pin.at))
        return Fault{fmt::format("--pin “{}” lies off the plate. Nothing was stored.", text)};
    return pin;
}

base::Result<ledger::FlexRecord> flex_of(const std::string& text, const plate::Outline& outline) {
    const auto parts = parts_of(text, 5);
    const auto kind = ledger::flex_kind_from_word(parts[0]);
    ledger::FlexRecord flex;
    bool good = kind && parts.size() == 4;
    std::size_t at = 1;
    for (double* value : {&flex.span_mm, &flex.load_g, &flex.deflection_mm}) {
        const auto number = good ? base::parse_number(parts[at++]) : std::nullopt;
        good = number.has_value();
        *value = number.value_or(0.0);
    }
    if (!good)
        return Fault{fmt::format("--flex “{}”: give KIND:SPAN:LOAD:DEFLECTION, such as "
                                 "lengthwise:300:500:1.2 (mm, g, mm); "
                                 "KIND is lengthwise, crosswise or twist. Nothing was stored.",
                                 text)};
    flex.kind = *kind;
    if (const auto reading = trends::flex_reading(flex, outline); !reading)
        return reading.fault();
    return flex;
}

template <class Record>
std::optional<Fault> unknown_in(const std::vector<Record>& all, std::span<const ledger::Id> ids,
                                const char* what) {
    for (const ledger::Id id : ids)
        if (std::none_of(all.begin(), all.end(), [id](const Record& r) { return r.id == id; }))
            return Fault{fmt::format("This session has no {} {}. Nothing was stored.", what, id)};
    return std::nullopt;
}

} // namespace

base::Result<plate::Point> place_of(const std::string& text, const plate::Outline& outline) {
    if (const auto place = plate::named_place(outline, text))
        return *place;
    const auto parts = parts_of(text, 2);
    const auto x = parts.size() == 2 ? base::parse_number(parts[0]) : std::nullopt;
    const auto y = parts.size() == 2 ? base::parse_number(parts[1]) : std::nullopt;
    if (!x || !y)
        return Fault{fmt::format(
            "“{}” is no place: give X:Y in mm, or a place's name such as upper_bout_left. Nothing "
            "was stored.",
            text)};
    if (!outline.holds({*x, *y}))
        return Fault{fmt::format("“{}” lies off the plate. Nothing was stored.", text)};
    return plate::Point{*x, *y};
}

base::Result<HandReadings>
hand_readings(const ledger::SessionHistory& session, const plate::Outline& outline,
              std::span<const std::string> pins, std::span<const std::string> flexes,
              std::span<const ledger::Id> unpinned, std::span<const ledger::Id> unflexed) {
    HandReadings hand;
    for (const std::string& text : pins) {
        auto pin = pin_of(text, outline);
        if (!pin)
            return pin.fault();
        pin->session = session.session.id;
        hand.pins.push_back(*std::move(pin));
    }
    for (const std::string& text : flexes) {
        auto flex = flex_of(text, outline);
        if (!flex)
            return flex.fault();
        flex->session = session.session.id;
        hand.flexes.push_back(*flex);
    }
    if (auto fault = unknown_in(session.pins, unpinned, "pin"))
        return *fault;
    if (auto fault = unknown_in(session.flex, unflexed, "flex reading"))
        return *fault;
    return hand;
}

} // namespace platewright::cli
