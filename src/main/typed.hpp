#pragma once
#include "base/clock.hpp"
#include "base/limits.hpp"
#include "ledger/asked_fields.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <optional>
#include <set>
#include <string>

namespace platewright::cli {

/// What was typed after an option, checked. Each throws CLI::ValidationError with a sentence.

/// Nothing where nothing was typed; a decimal comma and the unit after it are fine.
std::optional<double> typed_number(const std::string& text, const char* option,
                                   const base::Limits& limits);
/// A name that can be read back, typed and printed.
std::string typed_label(const std::string& text, const char* option);
/// A day, or a day and time by the clock on the wall (base::from_typed), that is not still to come;
/// now where nothing was typed.
base::Timestamp typed_moment(const std::string& text, const char* option);

/// What was typed for the fields of a record, an option each (ledger/asked.hpp).
class TypedOptions {
public:
    bool said(const std::string& option) const { return !text(option).empty(); }
    /// As it was typed; empty: not said.
    const std::string& text(const std::string& option) const { return typed_.at(option); }
    bool any() const;
    /// "--mass, --stage"
    std::string names() const;

protected:
    using Fields = std::vector<ledger::AskedField>;
    void add(CLI::App& command, const Fields& fields, const std::set<std::string>& but,
             const std::string& group);
    void take_into(const Fields& fields) const;

private:
    std::map<std::string, std::string> typed_; // by option
    std::vector<std::string> order_;
};

template <class Record>
class FieldOptions : public TypedOptions {
public:
    /// All options of the record's description but some.
    void add_to(CLI::App& command, const std::set<std::string>& but = {},
                const std::string& group = "Options") {
        Record blank;
        add(command, ledger::asked_fields(blank), but, group);
    }
    /// The record with what was said in place of what it had; "unknown" takes a figure back that
    /// may lack. Throws CLI::ValidationError with a sentence.
    Record put_into(Record record) const {
        take_into(ledger::asked_fields(record));
        return record;
    }
    /// The first option that says otherwise than the record; empty: none.
    std::string contradicting(const Record& record) const {
        const Record said = put_into(record);
        std::string option;
        ledger::for_each_column<Record>([&](const auto& column) {
            if (option.empty() && column.of(said) != column.of(record))
                option = column.asked.option_name();
        });
        return option;
    }
};

} // namespace platewright::cli
