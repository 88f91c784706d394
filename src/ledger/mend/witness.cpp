#include "ledger/mend/witness.hpp"

#include "base/failure.hpp"
#include "ledger/files/many_files.hpp"
#include "ledger/mend/facts.hpp"
#include "ledger/tables/record_rows.hpp"
#include "ledger/tables/rows.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <utility>

namespace platewright::ledger {
namespace {

using Json = nlohmann::ordered_json;
namespace fs = std::filesystem;

constexpr std::array<std::string_view, 5> k_computed{"reading", "partial", "mode_set", "mode",
                                                     "mode_spot"};

/// Whether a change of this table is told beside the recordings, as SQL on the row changed.
std::string told(std::string_view table, std::string_view event) {
    if (std::ranges::find(k_computed, table) != k_computed.end())
        return "0";
    if ((table == "tap" || table == "wood_tap") && event == "INSERT")
        return "new.recording IS NULL"; // else the recording tells it
    return "1";
}

} // namespace

Witness::Witness(Database& database, fs::path ledger)
    : database_{database}, folder_{std::move(ledger)}, seals_{database},
      reader_{database, TreeReader::Bin::with} {
    database_.run("PRAGMA temp_store = MEMORY");
    database_.run("CREATE TEMP TABLE IF NOT EXISTS touched (part TEXT, id INTEGER, told INTEGER, "
                  "PRIMARY KEY (part, id)) WITHOUT ROWID");
    for (std::size_t place = 0; place < seals_.shapes().size(); ++place)
        watch(place);
    seals_.seal_all_if_due();
    write_due(Over::older_files); // in an older copy put in place what was due then has come since
}

/// The id of the part that a row (`new` or `old`) belongs to, as SQL.
std::string Witness::part_id(std::size_t place, const char* row) const {
    const auto& shapes = seals_.shapes();
    if (is_part(shapes[place].table.name))
        return fmt::format("{}.id", row);
    std::string id = fmt::format("{}.{}", row, shapes[place].parent_column);
    for (std::string_view table = shapes[place].table.parent; !is_part(table);) {
        const TableShape& above = shapes[place_of(shapes, table)];
        id = fmt::format("(SELECT {} FROM {} WHERE id = {})", above.parent_column, table, id);
        table = above.table.parent;
    }
    return id;
}

/// Triggers of this connection alone (they lie in its memory, not in the file) say what was
/// changed.
void Witness::watch(std::size_t place) {
    const TableShape& shape = seals_.shapes()[place];
    const std::string_view part = seals_.shapes()[seals_.part_of(place)].table.name;
    for (const std::string_view event : {"INSERT", "UPDATE", "DELETE"}) {
        std::string acts;
        const auto touch = [&acts](std::string_view what, const std::string& id,
                                   const std::string& told) {
            acts +=
                fmt::format("INSERT INTO touched SELECT '{}', x.id, {} FROM (SELECT {} AS id) AS x "
                            "WHERE x.id IS NOT NULL ON CONFLICT (part, id) DO UPDATE SET "
                            "told = max(told, excluded.told); ",
                            what, told, id);
        };
        if (event != "INSERT")
            touch(part, part_id(place, "old"), told(shape.table.name, event));
        if (event != "DELETE")
            touch(part, part_id(place, "new"), told(shape.table.name, event));
        if (event == "UPDATE" && part == shape.table.name && is_part(shape.table.parent))
            for (const char* row : {"old", "new"}) // it may have moved from one to another
                touch(shape.table.parent, fmt::format("{}.{}", row, shape.parent_column),
                      told(shape.table.name, event));
        database_.run(fmt::format(
            "CREATE TEMP TRIGGER IF NOT EXISTS touch_{}_{} AFTER {} ON main.{} BEGIN {} END",
            shape.table.name, event, event, shape.table.name, acts));
    }
}

void Witness::before_commit() {
    for (const Due& done : std::exchange(written_, {}))
        database_.execute("DELETE FROM facts_due WHERE kind = ? AND id = ?", done.kind, done.id);
    std::vector<std::pair<PartName, bool>> touched;
    {
        Statement rows{database_, "SELECT part, id, told FROM touched"};
        while (rows.step()) {
            PartName part{rows.text(), rows.integer()};
            touched.emplace_back(std::move(part), rows.truth());
        }
    }
    std::int64_t number = 0;
    for (const auto& [part, is_told] : touched) {
        seals_.seal(part);
        if (is_told && number == 0)
            number = next_number();
        if (is_told)
            note_due(part, number);
    }
    database_.run("DELETE FROM touched");
}

std::int64_t Witness::number(const std::string& sql, std::int64_t id) {
    return database_.first_integer(sql, id).value_or(0);
}

std::int64_t Witness::next_number() {
    constexpr const char* k_key = "ledger.facts";
    const auto last =
        database_.first_integer("SELECT CAST(value AS INTEGER) FROM setting WHERE key = ?", k_key);
    const std::int64_t next = std::max(last.value_or(0), last_number_) + 1;
    set_setting(database_, k_key, fmt::format("{}", next));
    return next;
}

void Witness::note_due(const PartName& part, std::int64_t number) {
    constexpr std::array<std::array<const char*, 3>, 7> k_owners{{
        {"tap", "session", "SELECT session FROM tap WHERE id = ?"},
        {"session", "session", "SELECT id FROM session WHERE id = ?"},
        {"plate", "instrument", "SELECT instrument FROM plate WHERE id = ?"},
        {"instrument", "instrument", "SELECT id FROM instrument WHERE id = ?"},
        {"wood_tap", "wood",
         "SELECT wood FROM wood_test WHERE id = (SELECT test FROM wood_tap WHERE id = ?)"},
        {"wood_test", "wood", "SELECT wood FROM wood_test WHERE id = ?"},
        {"wood", "wood", "SELECT id FROM wood WHERE id = ?"},
    }};
    for (const auto& [table, kind, sql] : k_owners)
        if (part.table == table)
            if (const std::int64_t owner = this->number(sql, part.id); owner != 0)
                put_on_list(kind, owner, number);
}

void Witness::put_on_list(const std::string& kind, std::int64_t id, std::int64_t number) {
    if (holds_)
        held_.emplace(kind, id);
    else
        database_.execute("INSERT INTO facts_due VALUES (?, ?, ?) ON CONFLICT (kind, id) DO UPDATE "
                          "SET number = excluded.number",
                          kind, id, number);
}

void Witness::hold() {
    holds_ = true;
    held_.clear();
}

void Witness::release(std::int64_t highest) {
    holds_ = false;
    last_number_ = std::max(last_number_, highest);
    if (held_.empty())
        return;
    const std::int64_t number = next_number();
    for (const auto& [kind, id] : std::exchange(held_, {}))
        put_on_list(kind, id, number);
}

void Witness::forget_held() {
    holds_ = false;
    held_.clear();
}

void Witness::note_missing() {
    std::int64_t next = 0;
    for (const char* table : {"instrument", "session", "wood"}) {
        const std::string kind{table};
        std::vector<PartName> missing;
        {
            Statement rows{database_, fmt::format("SELECT id, uid FROM {}", kind)};
            std::error_code error;
            while (rows.step()) {
                const std::int64_t id = rows.integer();
                if (!fs::exists(facts_folder(folder_) /
                                    fmt::format("{}-{}.json", kind, rows.text()),
                                error))
                    missing.push_back({kind, id});
            }
        }
        for (const PartName& part : missing) {
            next = next == 0 ? next_number() : next;
            put_on_list(kind, part.id, next);
        }
    }
}

std::string Witness::uid_of(std::string_view table, std::int64_t id) {
    return database_.first_text(fmt::format("SELECT uid FROM {} WHERE id = ?", table), id)
        .value_or("");
}

std::string Witness::facts_of(const Due& due, std::int64_t number_of_change) {
    const auto& [kind, id, noted] = due;
    reader_.leave_out({k_computed.begin(), k_computed.end()});
    if (kind == "wood")
        return facts_text(number_of_change, "wood", reader_.row("wood", id));
    if (kind == "instrument") {
        reader_.leave_out({"session"});
        return facts_text(number_of_change, "instrument", reader_.row("instrument", id));
    }
    const std::int64_t plate_id = number("SELECT plate FROM session WHERE id = ?", id);
    Json instrument = reader_.row_alone(
        "instrument", number("SELECT instrument FROM plate WHERE id = ?", plate_id));
    Json plate = reader_.row_alone("plate", plate_id);
    put_within(plate, "session", reader_.row("session", id));
    put_within(instrument, "plate", std::move(plate));
    return facts_text(number_of_change, "instrument", std::move(instrument));
}

std::string Witness::facts_of_tap(std::string_view owner, const std::string& uid,
                                  const TapRecord& tap) {
    Json row{{"uid", uid}};
    const auto tell = [&](const auto& column) {
        if (column.role != Role::link) // the recording is the one that this stands in
            row[std::string{column.name}] =
                as_json(as_value(column_value(column.of(tap), column.role)));
    };
    std::apply([&](const auto&... column) { (tell(column), ...); }, k_tap_columns);
    if (tap.weighing != 0)
        row["weighing"] = uid_of("weighing", tap.weighing);
    std::int64_t id = tap.session;
    std::string_view name = owner == "session" ? "tap" : "wood_tap";
    for (std::string_view table = owner; !table.empty();) {
        const TableShape& shape = reader_.shape_of(table);
        Json above = reader_.row_alone(table, id);
        shorten(above);
        put_within(above, name, std::move(row));
        row = std::move(above);
        name = table;
        if (!shape.parent_column.empty())
            id = number(fmt::format("SELECT {} FROM {} WHERE id = ?", shape.parent_column, table),
                        id);
        table = shape.table.parent;
    }
    return facts_text(0, name, std::move(row));
}

std::vector<Witness::Due> Witness::due() {
    Statement rows{database_, "SELECT kind, id, number FROM facts_due"};
    std::vector<Due> found;
    while (rows.step()) {
        std::string kind = rows.text();
        const std::int64_t id = rows.integer();
        found.push_back({std::move(kind), id, rows.integer()});
    }
    std::erase_if(found, [this](const Due& one) {
        return std::ranges::find(written_, one) != written_.end();
    });
    return found;
}

void Witness::after_commit() { write_due(Over::all_files); }

void Witness::write_due(Over over) {
    if (holds_)
        return;
    try {
        std::vector<NamedText> files;
        const std::vector<Due> all = due();
        for (const Due& one : all) {
            const std::string uid = uid_of(one.kind, one.id);
            const std::string name = fmt::format("{}-{}.json", one.kind, uid);
            const fs::path file = facts_folder(folder_) / name;
            const std::int64_t there = number_of_facts(file);
            const bool is_of_later_history = there > 0 && there >= one.number;
            if (uid.empty() || (over == Over::older_files && is_of_later_history))
                continue;
            if (is_of_later_history) // an older copy is worked on: what it lacks stays
                set_facts_aside(file, there);
            const std::int64_t number_now = std::max(one.number, there + 1);
            last_number_ = std::max(last_number_, number_now);
            files.push_back({name, facts_of(one, number_now)});
        }
        if (!files.empty())
            write_together(facts_folder(folder_), files);
        written_.insert(written_.end(), all.begin(), all.end());
    } catch (const base::Failure&) {
        // The rows are kept, which is what was promised; that these facts are due stands in the
        // database.
    }
}

} // namespace platewright::ledger
