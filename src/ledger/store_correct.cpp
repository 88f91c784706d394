// The part of Store that puts right what was entered in the wrong place.
#include "ledger/bundle/import_journal.hpp"
#include "ledger/bundle/tree_merge.hpp"
#include "ledger/store_impl.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <nlohmann/json.hpp>

namespace platewright::ledger {
namespace {

using Json = nlohmann::ordered_json;
using wording::say;

base::Fault gone() {
    return {say("The ledger holds nothing of that number any more. Nothing was changed.")};
}

bool is_there(Database& database, std::string_view table, Id id) {
    return database
        .first_integer(fmt::format("SELECT 1 FROM {} WHERE id = ? AND binned_ms IS NULL", table),
                       id)
        .has_value();
}

/// Words of one row, in the order of the columns asked for; nothing where it is not there.
std::vector<std::string> fields_of(Database& database, std::string_view sql, Id id) {
    Statement row{database, std::string{sql}, id};
    std::vector<std::string> words;
    if (row.step())
        words = {row.text(), row.text()};
    return words;
}

bool is_body(const std::string& part) { return modes::part_from_word(part) == modes::Part::body; }

Value from_json(const Json& json) {
    if (json.is_string())
        return json.get<std::string>();
    if (json.is_number_integer())
        return json.get<std::int64_t>();
    return json.is_number() ? Value{json.get<double>()} : Value{};
}

/// One bundle's undoing, within a transaction of the caller's.
class Undoing {
public:
    Undoing(Database& database, UndoneImport& report)
        : database_{database}, report_{report}, shapes_{table_shapes(database)},
          merge_{database, {}, ignored_, [](const std::string&) { return true; }} {}

    void run(const Json& journal) {
        // What was replaced stands again only once the bundle's is away.
        for (const Json& row : journal.at("added"))
            take_out(row.at(0).get<std::string>(), row.at(1).get<Id>());
        for (const Json& tree : journal.at("replaced")) {
            merge_.put_back(tree.at(0).get<std::string>(), tree.at(1).get<Id>(), tree.at(2));
            ++report_.put_back;
        }
        for (const Json& change : journal.at("changed"))
            change_back(change);
    }

private:
    const TableShape& shape(const std::string& table) const {
        return shapes_[place_of(shapes_, table)];
    }

    void take_out(const std::string& table, Id id) {
        const TableShape& of = shape(table);
        if (!of.has_bin) {
            remove_tree(database_, shapes_, table, "id", id);
            ++report_.removed;
            return;
        }
        database_.execute(
            fmt::format("UPDATE {} SET binned_ms = ? WHERE id = ? AND binned_ms IS NULL", table),
            base::now().ms_since_epoch, id);
        report_.binned += static_cast<int>(database_.changes());
    }

    void change_back(const Json& change) {
        const TableShape& of = shape(change.at(0).get<std::string>());
        const auto column = change.at(2).get<std::string>();
        const TableShape::Column* known = of.column(column);
        const bool refers = known != nullptr && !known->refers_to.empty();
        // A reference is journaled as the uid of what it names.
        const std::string value =
            refers ? fmt::format("(SELECT id FROM {} WHERE uid = ?)", known->refers_to) : "?";
        Statement update{database_, fmt::format("UPDATE {} SET {} = {} WHERE id = ? AND {} IS {}",
                                                of.table.name, column, value, column, value)};
        update
            .bind_each(std::array<Value, 3>{from_json(change.at(3)), change.at(1).get<Id>(),
                                            from_json(change.at(4))})
            .step();
        ++(database_.changes() == 1 ? report_.put_back : report_.changed_since);
    }

    Database& database_;
    UndoneImport& report_;
    TakeReport ignored_;
    std::vector<TableShape> shapes_;
    TreeMerge merge_;
};

} // namespace

std::optional<base::Fault> Store::move_session(Id session, Id plate) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    const auto from = fields_of(
        database,
        "SELECT p.part, s.stage FROM session s JOIN plate p ON p.id = s.plate WHERE s.id = ?",
        session);
    const auto to = fields_of(database, "SELECT part, label FROM plate WHERE id = ?", plate);
    if (from.empty() || to.empty() || !is_there(database, "session", session) ||
        !is_there(database, "plate", plate))
        return gone();
    if (is_body(from[0]) != is_body(to[0]))
        return base::Fault{say("A plate's session can't go to a closed body, nor a "
                               "body's to a plate. Nothing was changed.")};
    database.execute("UPDATE session SET plate = ? WHERE id = ?", plate, session);
    transaction.commit();
    return std::nullopt;
}

std::optional<base::Fault> Store::move_plate(Id plate, Id instrument) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    if (!is_there(database, "plate", plate) || !is_there(database, "instrument", instrument))
        return gone();
    database.execute("UPDATE plate SET instrument = ? WHERE id = ?", instrument, plate);
    transaction.commit();
    return std::nullopt;
}

std::optional<base::Fault> Store::set_begun(Id session, base::Timestamp begun) {
    if (begun > base::now())
        return base::Fault{
            say("That day is still to come: give the day it was. Nothing was changed.")};
    Transaction transaction = impl_->change();
    if (!is_there(*impl_->database, "session", session))
        return gone();
    impl_->database->execute("UPDATE session SET begun_ms = ? WHERE id = ?", begun.ms_since_epoch,
                             session);
    transaction.commit();
    return std::nullopt;
}

std::optional<base::Fault> Store::set_spot(Id tap, taps::Spot spot) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    const auto of = fields_of(database,
                              "SELECT p.part, t.spot FROM tap t JOIN session s ON s.id = t.session "
                              "JOIN plate p ON p.id = s.plate WHERE t.id = ?",
                              tap);
    if (of.empty() || !is_there(database, "tap", tap))
        return gone();
    if (spot != taps::Spot::unknown && taps::is_on_bridge(spot) != is_body(of[0]))
        return base::Fault{say("A plate is struck at its own places, a closed body at "
                               "the bridge's. Nothing was changed.")};
    database.execute("UPDATE tap SET spot = ? WHERE id = ?", taps::to_word(spot), tap);
    transaction.commit();
    return std::nullopt;
}

std::optional<base::Fault> Store::take_out_readings(Id session,
                                                    std::span<const std::size_t> which) {
    const auto known = history_with(session);
    const SessionHistory* one = known ? session_in(known->sessions, session) : nullptr;
    if (one == nullptr || one->thickness.readings.empty() ||
        std::ranges::any_of(which,
                            [&](std::size_t i) { return i >= one->thickness.readings.size(); }))
        return gone();
    std::vector<plate::ThicknessReading> left;
    for (std::size_t i = 0; i < one->thickness.readings.size(); ++i)
        if (std::ranges::find(which, i) == which.end())
            left.push_back(one->thickness.readings[i]);
    set_thickness(session, left);
    return std::nullopt;
}

base::Result<UndoneImport> Store::undo_import() {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    Statement last{
        database,
        "SELECT key, value FROM setting WHERE key LIKE 'import.%' ORDER BY key DESC LIMIT 1"};
    if (!last.step())
        return base::Fault{
            say("No bundle was taken in since the last one was undone: there is nothing to undo.")};
    const std::string key = last.text();
    const Json journal = Json::parse(last.text());
    last.step(); // a statement in the middle of its rows would hold the table
    UndoneImport report;
    report.file = journal.at("file").get<std::string>();
    report.taken_in = {std::stoll(key.substr(k_import_key.size()))};
    Undoing{database, report}.run(journal);
    database.execute("DELETE FROM setting WHERE key = ?", key);
    transaction.commit();
    return report;
}

} // namespace platewright::ledger
