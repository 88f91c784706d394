#pragma once
#include "ledger/asked_fields.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/typed.hpp"

#include <map>

namespace platewright::screen {

/// What is typed into the fields of a record: text as written, so that half a number is no error
/// yet.
class TypedFields {
public:
    /// Labels other than a column's own.
    std::map<std::string_view, std::string_view> called;
    TypedFigure& figure(std::string_view column) { return figures_.at(column); }
    const TypedFigure& figure(std::string_view column) const { return figures_.at(column); }

    /// What stands above a column's field.
    std::string_view label(std::string_view column) const;

protected:
    using Fields = std::vector<ledger::AskedField>;
    using Before = std::function<bool(std::string_view column)>;
    explicit TypedFields(const Fields& fields);
    bool draw(const ViewContext& context, const Fields& fields, Complaint& wrong, bool fresh,
              const Before& before);
    /// Into the fields; nothing where all can be.
    std::optional<Complaint> take_into(const Fields& fields) const;

private:
    std::map<std::string_view, const ledger::Asked*> asked_;
    std::map<std::string_view, TypedFigure> figures_;
};

/// A record whose fields are asked for in a form, as its description says (ledger/columns.hpp).
/// What was not touched is given back as it was, to the last digit.
template <class Record>
struct RecordFields : TypedFields {
    Record record; ///< id 0: a new one; its words and choices as they stand in the form

    explicit RecordFields(Record from)
        : TypedFields(ledger::asked_fields(from)), record(std::move(from)) {}

    /// In the description's order; true when Enter was pressed in one. `before` draws what stands
    /// before a column's field, and gives true where the column is not asked for. `fresh`: the
    /// first that is typed gets the writing mark.
    bool draw_fields(
        const ViewContext& context, Complaint& wrong, bool fresh,
        const Before& before = [](std::string_view) { return false; }) {
        return draw(context, ledger::asked_fields(record), wrong, fresh, before);
    }
    /// Fault: the first that can't be.
    Filled<Record> typed() const {
        Record out = record;
        if (const auto wrong = take_into(ledger::asked_fields(out)))
            return {base::Fault{wrong->words}, wrong->at};
        return out;
    }
};

} // namespace platewright::screen
