// The part of Store that writes bundles.
#include "base/clock.hpp"
#include "ledger/bundle/bundle.hpp"
#include "ledger/bundle/bundle_tables.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/store_impl.hpp"
#include "ledger/tables/schema.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

namespace platewright::ledger {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* k_read_me =
    "A bundle of Platewright, a program by which violin makers keep how their plates ring.\n\n"
    "bundle.json             what this is\n"
    "wood.json               woods with their tests and motions\n"
    "instruments/<uid>.json  an instrument with its plates, sessions, taps, modes, thickness maps, "
    "plans\n"
    "recordings/<hash>.flac  the taps' sound, named by the SHA-256 of the file\n"
    "tables/*.csv            the same figures for a spreadsheet\n\n"
    "The format is open and described in Platewright's docs/bundle-format.md. To take it into a\n"
    "ledger: platewright bundle in FILE\n";

struct Chosen {
    Id id;
    std::string uid;
};

std::vector<Chosen> chosen_instruments(Database& database, const BundleRequest& request) {
    Statement rows{database,
                   "SELECT id, uid FROM instrument WHERE binned_ms IS NULL AND (?1 IS NULL "
                   "OR id = ?1) AND (?2 IS NULL OR id = (SELECT instrument FROM plate "
                   "WHERE id = ?2)) ORDER BY id",
                   request.instrument, request.plate};
    std::vector<Chosen> chosen;
    while (rows.step()) {
        const Id id = rows.integer();
        chosen.push_back({id, rows.text()});
    }
    return chosen;
}

std::string uid_of_plate(Database& database, const std::optional<Id>& plate) {
    return database.first_text("SELECT uid FROM plate WHERE id = ? AND binned_ms IS NULL", plate)
        .value_or("");
}

/// An instrument with all that belongs to it, or with one of its plates only.
Json tree_of(TreeReader& reader, Id instrument, const std::string& only_plate) {
    Json tree = reader.row("instrument", instrument);
    if (!only_plate.empty() && tree.contains("plate"))
        tree["plate"].erase(
            std::remove_if(tree["plate"].begin(), tree["plate"].end(),
                           [&](const Json& plate) { return plate["uid"] != only_plate; }),
            tree["plate"].end());
    return tree;
}

/// The uids that rows of a tree give for rows of another table.
void collect_references(const TreeReader& reader, const std::string& table, const Json& rows,
                        std::string_view wanted, std::set<std::string>& uids) {
    const TableShape& shape = reader.shape_of(table);
    for (const Json& row : rows) {
        for (const TableShape::Column& column : shape.columns)
            if (column.refers_to == wanted && row[column.name].is_string())
                uids.insert(row[column.name].get<std::string>());
        for (const std::size_t child : shape.children)
            if (const std::string name{reader.shapes()[child].table.name}; row.contains(name))
                collect_references(reader, name, row[name], wanted, uids);
    }
}

/// Rows of a table that belong to nothing: all, or those that the instruments chosen refer to.
Json loose_rows(TreeReader& reader, std::string_view table, const std::vector<Json>& trees,
                bool all) {
    std::set<std::string> wanted;
    for (const Json& tree : trees)
        collect_references(reader, "instrument", Json::array({tree}), table, wanted);
    Json rows = reader.all_rows(table);
    rows.erase(std::remove_if(rows.begin(), rows.end(),
                              [&](const Json& row) {
                                  return !all && !wanted.contains(row["uid"].get<std::string>());
                              }),
               rows.end());
    return rows;
}

const Json& list(const Json& row, const char* name) {
    static const Json none = Json::array();
    const auto found = row.find(name);
    return found == row.end() ? none : *found;
}

void count(const Json& tree, BundleReport& report, std::set<std::string>& recordings) {
    ++report.instruments;
    for (const Json& plate : list(tree, "plate")) {
        ++report.plates;
        for (const Json& session : list(plate, "session")) {
            ++report.sessions;
            for (const Json& tap : list(session, "tap")) {
                ++report.taps;
                if (tap["recording"].is_string())
                    recordings.insert(tap["recording"].get<std::string>());
            }
        }
    }
}

/// Recordings that rows, and what belongs to them, name.
void collect_recordings(const Json& rows, std::set<std::string>& recordings) {
    for (const Json& row : rows)
        for (const auto& [name, value] : row.items())
            if (name == "recording" && value.is_string())
                recordings.insert(value.get<std::string>());
            else if (value.is_array())
                collect_recordings(value, recordings);
}

Json head_of(Database& database, const std::vector<Chosen>& instruments) {
    Json uids = Json::array();
    for (const Chosen& one : instruments)
        uids.push_back(one.uid);
    return {{"format", k_bundle_format},
            {"tables", schema_version(database)},
            {"made", base::to_iso(base::now())},
            {"instruments", uids}};
}

std::string laid_out(const Json& json) {
    return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace

BundleReport Store::write_bundle(const std::filesystem::path& file, const BundleRequest& request,
                                 const Progress& progress) const {
    Database& database = *impl_->database;
    const Transaction one_moment{database, Transaction::Kind::read};
    const std::vector<Chosen> instruments = chosen_instruments(database, request);
    const std::string only_plate = uid_of_plate(database, request.plate);
    BundleReport report;
    ZipWriter zip{file};
    zip.add_text("README.txt", [] { return std::string{k_read_me}; });
    zip.add_text("bundle.json", [&] { return laid_out(head_of(database, instruments)); });
    TreeReader reader{database};
    std::set<std::string> recordings;
    const bool all = !request.instrument && !request.plate;
    std::vector<Json> few; // trees of what was chosen; all of a ledger would be too much to hold
    for (const Chosen& one : instruments) {
        Json tree = tree_of(reader, one.id, only_plate);
        count(tree, report, recordings);
        if (!all)
            few.push_back(std::move(tree));
        zip.add_text("instruments/" + one.uid + ".json",
                     [&, one] { return laid_out(tree_of(reader, one.id, only_plate)); });
    }
    for (const TableShape& shape : reader.shapes())
        if (shape.table.parent.empty() && shape.table.name != "instrument") {
            collect_recordings(loose_rows(reader, shape.table.name, few, all), recordings);
            zip.add_text(std::string{shape.table.name} + ".json", [&reader, &shape, &few, all] {
                return laid_out(loose_rows(reader, shape.table.name, few, all));
            });
        }
    for (const BundledText& table : request.tables)
        zip.add_text("tables/" + table.name, [&table] { return table.text; });
    std::size_t seen = 0;
    for (const std::string& hash : recordings) {
        const std::filesystem::path kept = impl_->recording_file(hash);
        if (is_what_its_name_says(kept, hash)) {
            zip.add_file("recordings/" + hash + ".flac", kept);
            ++report.recordings;
        } else {
            report.left_out.push_back(hash);
        }
        const double share = static_cast<double>(++seen) / static_cast<double>(recordings.size());
        if (progress && !progress(0.5 * share)) {
            report.stopped = true;
            return report;
        }
    }
    report.stopped = !zip.finish(
        progress ? [&progress](double share) { return progress(0.5 + 0.5 * share); } : Progress{});
    return report;
}

} // namespace platewright::ledger
