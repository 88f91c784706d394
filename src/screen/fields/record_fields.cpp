#include "screen/fields/record_fields.hpp"

#include "base/text.hpp"

#include <array>

namespace platewright::screen {
namespace {
using ledger::Asked;
using ledger::Takes;
using wording::in_language;

constexpr double k_figure_width = 160.0, k_name_width = 360.0, k_choice_width = 260.0;

/// What stands in it, as it is typed; nothing where it is no figure. One that must be and is 0 was
/// not said yet.
std::optional<std::optional<double>> figure_in(const ledger::AskedField& field) {
    const double times = field.asked->times;
    if (const auto* value = std::get_if<double*>(&field.value)) {
        return **value == 0.0 ? std::optional<double>() : times * **value;
    }
    const auto* value = std::get_if<std::optional<double>*>(&field.value);
    if (value == nullptr) {
        return std::nullopt;
    }
    return **value ? std::optional(times * ***value) : std::optional<double>();
}

bool words_field(const ViewContext& context, const Asked& asked, std::string_view label,
                 std::string& value, bool fresh, Complaint& wrong) {
    if (asked.takes == Takes::notes) {
        notes_field(context, label, value);
    } else if (asked.takes == Takes::species) { // one of a later program stays until it is changed
        std::size_t chosen = species_index(value);
        if (drop_down(context, label, species_names(in_language(asked.what)), chosen)) {
            value = species_key(chosen);
        }
    } else {
        return field(context, label, value, asked.takes == Takes::name ? k_name_width : 0.0, fresh,
                     &wrong);
    }
    return false;
}

} // namespace

TypedFields::TypedFields(const Fields& fields) {
    for (const ledger::AskedField& field : fields) {
        asked_.emplace(field.column, field.asked);
        if (const auto value = figure_in(field)) {
            figures_.emplace(field.column, TypedFigure(*value, field.asked->decimals));
        }
    }
}

std::string_view TypedFields::label(std::string_view column) const {
    const auto other = called.find(column);
    return other != called.end() ? other->second : in_language(asked_.at(column)->label);
}

bool TypedFields::draw(const ViewContext& context, const Fields& fields, Complaint& wrong,
                       bool fresh, const Before& before) {
    bool entered = false;
    for (const ledger::AskedField& one : fields) {
        if (one.asked->label.empty() || before(one.column)) {
            continue;
        }
        const std::string_view words = label(one.column);
        if (const auto typed = figures_.find(one.column); typed != figures_.end()) {
            entered |= field(context, words, typed->second.text, k_figure_width,
                             std::exchange(fresh, false), &wrong);
        } else if (const auto* text = std::get_if<std::string*>(&one.value)) {
            entered |=
                words_field(context, *one.asked, words, **text, std::exchange(fresh, false), wrong);
        } else if (const auto* truth = std::get_if<bool*>(&one.value)) {
            const std::array<std::string, 2> pieces{say("one piece"), say("two pieces")};
            std::size_t chosen = **truth ? 1 : 0;
            drop_down(context, words, pieces, chosen, k_choice_width);
            **truth = chosen == 1;
        } else if (const auto* choice = std::get_if<ledger::Choice>(&one.value)) {
            std::vector<std::string> all;
            for (const ledger::Choice::Word& word : choice->all) {
                all.emplace_back(word.text);
            }
            std::size_t chosen = choice->chosen;
            if (drop_down(context, words, all, chosen, k_choice_width)) {
                choice->choose(chosen);
            }
        }
    }
    return entered;
}

std::optional<Complaint> TypedFields::take_into(const Fields& fields) const {
    for (const ledger::AskedField& field : fields) {
        const Asked& asked = *field.asked;
        const auto wrong = [&](std::string_view words) {
            return Complaint{std::string(words), std::string(label(field.column))};
        };
        if (auto* const* text = std::get_if<std::string*>(&field.value);
            text != nullptr && asked.takes == Takes::name) {
            **text = base::trimmed(std::string(**text));
            if ((*text)->empty() && !asked.what.empty()) {
                return wrong(in_language(asked.what));
            }
        }
        const auto typed = figures_.find(field.column);
        const bool may_lack = std::holds_alternative<std::optional<double>*>(field.value);
        if (typed == figures_.end() ||
            (!typed->second.is_touched() && (may_lack || typed->second.filled()))) {
            continue;
        }
        const auto number = typed_number(typed->second.text,
                                         in_language(asked.what.empty() ? asked.label : asked.what),
                                         asked.limits, may_lack);
        if (!number) {
            return wrong(number.fault().what);
        }
        if (may_lack) {
            auto& value = *std::get<std::optional<double>*>(field.value);
            value = *number ? std::optional(**number / asked.times) : std::nullopt;
        } else {
            *std::get<double*>(field.value) = **number / asked.times;
        }
    }
    return std::nullopt;
}

} // namespace platewright::screen
