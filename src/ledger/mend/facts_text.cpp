#include "ledger/mend/facts_text.hpp"

#include "ledger/files/file_safety.hpp"

#include <algorithm>
#include <charconv>
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

} // namespace platewright::ledger
