#include "ledger/mend/facts.hpp"

#include "ledger/bundle/bundle_tables.hpp"
#include "ledger/files/file_safety.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <fmt/format.h>
#include <fstream>
#include <nlohmann/json.hpp>
#include <utility>

namespace platewright::ledger {

namespace {

using Json = nlohmann::ordered_json;
namespace fs = std::filesystem;

std::string on_one_line(const Json& json) {
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

constexpr const char* k_aside = "earlier";

std::vector<fs::path> files_in(const fs::path& folder) {
    std::vector<fs::path> files;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator{folder, error})
        if (entry.path().extension() == ".json")
            files.push_back(entry.path());
    std::ranges::sort(files); // instruments, sessions, woods
    return files;
}

} // namespace

void shorten(Json& row) {
    constexpr std::size_t k_longest = 2000;
    for (auto& [key, value] : row.items()) {
        if (!value.is_string() || value.get_ref<const std::string&>().size() <= k_longest)
            continue;
        std::string text = value.get<std::string>();
        std::size_t end = k_longest;
        while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U)
            --end;
        value = text.substr(0, end) + "…";
    }
}

void put_within(Json& above, std::string_view table, Json row) {
    Json& list = above[std::string{table}] = Json::array();
    list.push_back(std::move(row));
}

std::string facts_text(std::int64_t number, std::string_view table, Json row) {
    Json tree = Json::object();
    tree["format"] = "platewright.facts/1";
    if (number > 0)
        tree["number"] = number;
    tree[std::string{table}] = std::move(row);
    return on_one_line(tree);
}

std::int64_t number_of_facts(const fs::path& file) {
    constexpr std::size_t k_head = 100;
    constexpr std::string_view k_name = "\"number\":";
    std::string head(k_head, '\0');
    std::ifstream stream{file, std::ios::binary};
    stream.read(head.data(), static_cast<std::streamsize>(head.size()));
    const auto at = head.find(k_name);
    std::int64_t number = 0;
    if (at != std::string::npos)
        std::from_chars(head.data() + at + k_name.size(), head.data() + head.size(), number);
    return number;
}

fs::path facts_folder(const fs::path& ledger) { return ledger / "recordings" / "facts"; }

std::vector<fs::path> facts_files(const fs::path& ledger) { return files_in(facts_folder(ledger)); }

void set_facts_aside(const fs::path& file, std::int64_t number) {
    const fs::path aside = file.parent_path() / k_aside;
    make_folder_durably(aside);
    rename_durably(file, aside / (file.stem().string() + "-" + std::to_string(number) + ".json"));
}

std::vector<fs::path> facts_set_aside(const fs::path& ledger) {
    return files_in(facts_folder(ledger) / k_aside);
}

namespace {

using Json = nlohmann::ordered_json;

std::string uid_in(const Json& row) {
    const auto uid = row.is_object() ? row.find("uid") : row.end();
    return row.is_object() && uid != row.end() && uid->is_string() ? uid->get<std::string>()
                                                                   : std::string{};
}

/// Its uid and what belongs to it, and nothing of its own.
void leave_bare(Json& row) {
    Json bare = Json::object();
    for (auto& [key, value] : row.items())
        if (key == "uid" || value.is_array())
            bare[key] = std::move(value);
    row = std::move(bare);
}

/// Sets where each thing of a tree lies; `bin_of` gives the moment, or nothing for: in no bin.
template <class BinOf>
bool set_bins(Database& database, const std::string& table, const Json& row, const BinOf& bin_of) {
    if (!row.is_object())
        return false;
    bool any = false;
    if (row.contains("binned_ms")) {
        const Value moment = bin_of(row["binned_ms"]);
        Statement update{
            database,
            fmt::format("UPDATE {} SET binned_ms = ? WHERE uid = ? AND binned_ms IS NOT ?", table)};
        update.bind_each(std::array<Value, 3>{moment, uid_in(row), moment}).step();
        any = database.changes() > 0;
    }
    for (const BundledTable& below : bundled_tables())
        if (below.parent == table)
            if (const auto rows = row.find(std::string{below.name}); rows != row.end())
                for (const Json& one : *rows)
                    any = set_bins(database, std::string{below.name}, one, bin_of) || any;
    return any;
}

} // namespace

void name_recording(Json& tree, const std::string& hash) {
    for (auto& [key, value] : tree.items()) {
        if (key == "tap" || key == "wood_tap")
            for (Json& tap : value)
                if (tap.is_object())
                    tap["recording"] = hash;
        if (value.is_object() || value.is_array())
            name_recording(value, hash);
    }
}

void leave_known_owners(Database& database, Json& instrument) {
    if (!instrument.is_object())
        return;
    if (const auto plates = instrument.find("plate");
        plates != instrument.end() && plates->is_array())
        for (Json& plate : *plates) {
            const auto owner = database.first_text("SELECT i.uid FROM plate p JOIN instrument i ON "
                                                   "i.id = p.instrument WHERE p.uid = ?",
                                                   uid_in(plate));
            if (!owner)
                continue;
            instrument["uid"] = *owner;
            leave_bare(plate);
        }
    if (database.first_integer("SELECT 1 FROM instrument WHERE uid = ?", uid_in(instrument)))
        leave_bare(instrument);
}

void leave_tap_only(Json& row) {
    if (!row.is_object())
        return;
    leave_bare(row);
    for (const char* below : {"plate", "session", "wood_test"})
        if (const auto rows = row.find(below); rows != row.end())
            for (Json& one : *rows)
                leave_tap_only(one);
}

bool lift_from_bin(Database& database, const std::string& table, const Json& row) {
    return set_bins(database, table, row, [](const Json&) { return Value{}; });
}

bool put_into_bin(Database& database, const std::string& table, const Json& row) {
    return set_bins(database, table, row, [](const Json& binned) {
        return binned.is_number_integer() ? Value{binned.get<std::int64_t>()} : Value{};
    });
}

} // namespace platewright::ledger
