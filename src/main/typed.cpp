#include "main/typed.hpp"

#include "base/text.hpp"
#include "plate/wood/wood.hpp"

#include <algorithm>
#include <ranges>

namespace platewright::cli {

std::optional<double> typed_number(const std::string& text, const char* option,
                                   const base::Limits& limits) {
    if (text.empty())
        return std::nullopt;
    const auto value = base::parse_measure(text, limits.unit);
    if (!value || !limits.hold(*value))
        throw CLI::ValidationError(
            option, fmt::format("“{}” can't be: give {} to {}{}{}", text, limits.least, limits.most,
                                *limits.unit == '\0' ? "" : " ", limits.unit));
    return value;
}

std::string typed_label(const std::string& text, const char* option) {
    constexpr std::size_t longest = 200;
    const std::string name{base::trimmed(text)};
    if (name.empty() || name.size() > longest || !base::is_plain_text(name))
        throw CLI::ValidationError(option,
                                   "a name is one to 200 letters of plain text on one line");
    return name;
}

base::Timestamp typed_moment(const std::string& text, const char* option) {
    if (text.empty())
        return base::now();
    const auto when = base::from_typed(text);
    if (!when)
        throw CLI::ValidationError(
            option,
            fmt::format(
                "“{}” is no date: give 2026-03-14, 14.3.2026 or \"2026-03-14 09:26\", by the "
                "clock on your wall unless Z or +01:00 follows",
                text));
    const base::Timestamp now = base::now();
    constexpr std::int64_t k_day_ms = 86'400'000;
    if (when->ms_since_epoch > now.ms_since_epoch + k_day_ms)
        throw CLI::ValidationError(option,
                                   fmt::format("{} is still to come: give the day it was", text));
    return std::min(*when, now); // of today, typed in the morning, the noon is still to come
}

namespace {
using ledger::AskedField;
using ledger::Takes;

constexpr std::string_view k_unknown = "unknown";

[[noreturn]] void is_none_of(const std::string& option, const std::string& text, auto&& words) {
    std::string list;
    for (const auto& one : words)
        list += (list.empty() ? "" : ", ") + std::string(one);
    throw CLI::ValidationError(option, fmt::format("“{}” is none of {}", text, list));
}

void take_words(std::string& value, const AskedField& field, const std::string& option,
                const std::string& text) {
    value = field.asked->takes == Takes::name ? typed_label(text, option.c_str()) : text;
    if (field.asked->takes == Takes::species && !plate::find_species(text)) {
        is_none_of(option, text,
                   plate::species_table() | std::views::transform(&plate::Species::key));
    }
}

/// `text`: this field's part of what was typed.
void take(const AskedField& field, const std::string& text) {
    const ledger::Asked& asked = *field.asked;
    const std::string option = "--" + std::string(asked.option_name());
    const auto figure = [&] {
        const auto number = typed_number(text, option.c_str(), asked.limits);
        if (!number)
            throw CLI::ValidationError(option, "a figure is lacking");
        return *number / asked.times;
    };
    if (auto* const* number = std::get_if<double*>(&field.value)) {
        **number = figure();
    } else if (auto* const* known = std::get_if<std::optional<double>*>(&field.value)) {
        **known = text == k_unknown ? std::nullopt : std::optional(figure());
    } else if (auto* const* words = std::get_if<std::string*>(&field.value)) {
        take_words(**words, field, option, text);
    } else if (auto* const* truth = std::get_if<bool*>(&field.value)) {
        if (text != "1" && text != "2")
            is_none_of(option, text, std::vector{"1", "2"});
        **truth = text == "2";
    } else if (const auto* choice = std::get_if<ledger::Choice>(&field.value)) {
        const auto found = std::ranges::find(choice->all, text, &ledger::Choice::Word::word);
        if (found == choice->all.end())
            is_none_of(option, text,
                       choice->all | std::views::transform(&ledger::Choice::Word::word));
        choice->choose(static_cast<std::size_t>(found - choice->all.begin()));
    }
}

} // namespace

bool TypedOptions::any() const {
    return std::ranges::any_of(typed_, [](const auto& one) { return !one.second.empty(); });
}

std::string TypedOptions::names() const {
    std::string list;
    for (const std::string& option : order_)
        list += (list.empty() ? "--" : ", --") + option;
    return list;
}

void TypedOptions::add(CLI::App& command, const Fields& fields, const std::set<std::string>& but,
                       const std::string& group) {
    for (const AskedField& field : fields) {
        const std::string option(field.asked->option_name());
        const auto [typed, is_new] = typed_.try_emplace(option);
        if (option.empty() || !is_new || but.contains(option))
            continue;
        order_.push_back(option);
        command.add_option("--" + option, typed->second, std::string(field.asked->help))
            ->type_name(std::string(field.asked->option_kind()))
            ->group(group);
    }
}

void TypedOptions::take_into(const Fields& fields) const {
    for (const std::string& option : order_) {
        if (!said(option))
            continue;
        std::vector<const AskedField*> together;
        for (const AskedField& field : fields)
            if (field.asked->option_name() == option)
                together.push_back(&field);
        std::vector<std::string> parts = CLI::detail::split(text(option), ':');
        if (together.size() == 1)
            parts = {text(option)};
        else if (parts.size() == 1 &&
                 std::holds_alternative<std::optional<double>*>(together.front()->value))
            parts.resize(together.size(), parts.front()); // one figure for both halves
        if (parts.size() != together.size())
            throw CLI::ValidationError("--" + option,
                                       fmt::format("“{}” can't be: give {}", text(option),
                                                   together.front()->asked->option_kind()));
        for (std::size_t i = 0; i < parts.size(); ++i)
            take(*together[i], parts[i]);
    }
}

} // namespace platewright::cli
