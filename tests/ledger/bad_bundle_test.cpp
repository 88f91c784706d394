// A bundle that is broken, or was made to harm, gets one sentence, and leaves nothing behind.
#include "base/failure.hpp"
#include "ledger/faults.hpp"
#include "ledger/files/zip_file.hpp"
#include "ledger/full_workshop.hpp"
#include "ledger/mend/check.hpp"
#include "support/catch.hpp"

#include <cerrno>
#include <cstdint>
#include <fstream>
#include <nlohmann/json.hpp>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;
using Entries = std::vector<std::pair<std::string, std::string>>;

Entries entries_of(const fs::path& bundle) {
    const auto zip = ZipReader::open(bundle);
    REQUIRE(zip);
    Entries entries;
    for (const std::string& name : zip->names()) {
        const auto bytes = zip->read(name, 1 << 20);
        REQUIRE(bytes);
        entries.emplace_back(
            name, std::string{reinterpret_cast<const char*>(bytes->data()), bytes->size()});
    }
    return entries;
}

void write(const fs::path& bundle, const Entries& entries) {
    ZipWriter zip{bundle};
    for (const auto& [name, text] : entries)
        zip.add_text(name, [&text = text] { return text; });
    zip.finish({});
}

/// What the ledger in `folder` says to a bundle; it must be as empty afterwards as before.
std::string refusal(const fs::path& folder, const fs::path& bundle) {
    Store store{folder / "two"};
    const auto report = store.take_bundle(bundle);
    if (report)
        return "taken";
    CHECK(store.overview().empty());
    const CheckReport left = check(folder / "two");
    CHECK(left.taps == 0);
    CHECK(left.recordings == 0);
    CHECK(left.whole());
    const std::string& said = report.fault().what;
    CHECK(said.ends_with("."));
    CHECK(said.find("std::") == std::string::npos);
    return said;
}

/// A bundle whose instrument was changed by `edit`.
template <class Edit>
fs::path edited(const fs::path& folder, const Edit& edit) {
    Entries entries = entries_of(folder / "good.zip");
    for (auto& [name, text] : entries)
        if (name.starts_with("instruments/")) {
            Json row = Json::parse(text);
            edit(row);
            text = row.dump();
        }
    write(folder / "edited.zip", entries);
    return folder / "edited.zip";
}

struct Good {
    Good() {
        Workshop workshop{folder.path() / "one"};
        fill(workshop);
        workshop.store.write_bundle(folder.path() / "good.zip", {});
    }
    TemporaryFolder folder;
};

} // namespace

TEST_CASE("cut short anywhere, or with any byte changed, a bundle is refused or wholly taken") {
    const Good good;
    std::ifstream in{good.folder.path() / "good.zip", std::ios::binary};
    const std::string whole{std::istreambuf_iterator<char>(in), {}};
    const fs::path broken = good.folder.path() / "broken.zip";
    const auto try_bytes = [&](const std::string& bytes) {
        std::ofstream{broken, std::ios::binary} << bytes;
        Store store{good.folder.path() / "two"};
        const auto report = store.take_bundle(broken, {.only_look = true});
        CHECK(store.overview().empty());
        return bool{report};
    };
    CHECK(try_bytes(whole));
    for (std::size_t size = 0; size < whole.size(); size += whole.size() / 23)
        CHECK_FALSE(try_bytes(whole.substr(0, size)));
    int refused = 0;
    for (std::size_t at = 3; at < whole.size(); at += whole.size() / 61) {
        std::string bytes = whole;
        bytes[at] = static_cast<char>(bytes[at] ^ 0x55);
        refused += try_bytes(bytes) ? 0 : 1;
    }
    CHECK(refused > 40); // a byte of a date or of the read-me does no harm
}

TEST_CASE("names that point out of the bundle are refused, whatever is in them") {
    const Good good;
    for (const char* name : {"../../etc/passwd", "/etc/passwd", "recordings/../../x.flac",
                             "..\\windows\\x", "C:/x", "recordings/.."}) {
        CAPTURE(name);
        Entries entries = entries_of(good.folder.path() / "good.zip");
        entries.emplace_back(name, "harm");
        write(good.folder.path() / "out.zip", entries);
        CHECK(refusal(good.folder.path(), good.folder.path() / "out.zip").find("points out") !=
              std::string::npos);
    }
}

TEST_CASE("an entry that unpacks to far more than it takes is refused before it is unpacked") {
    const Good good;
    for (const std::size_t megabytes : {4U, 70U}) {
        Entries entries = entries_of(good.folder.path() / "good.zip");
        for (auto& [name, text] : entries)
            if (name.starts_with("instruments/"))
                text += std::string(megabytes << 20U, ' ');
        write(good.folder.path() / "bomb.zip", entries);
        CHECK(refusal(good.folder.path(), good.folder.path() / "bomb.zip").find("unpack") !=
              std::string::npos);
    }
}

TEST_CASE("an entry that unpacks to another length than it says is refused") {
    const TemporaryFolder folder;
    const fs::path bundle = folder.path() / "one.zip";
    for (const int change : {-1, 1}) {
        write(bundle, {{"letter.txt", std::string(1000, 'x')}});
        std::fstream file{bundle, std::ios::in | std::ios::out | std::ios::binary};
        std::string bytes{std::istreambuf_iterator<char>(file), {}};
        // APPNOTE.TXT 4.3.7 and 4.3.12: the length as it is unpacked, in both of its headers.
        for (const auto& [head, length] : {std::pair{"PK\3\4", 22}, std::pair{"PK\1\2", 24}}) {
            file.seekp(static_cast<std::streamoff>(bytes.find(head)) + length);
            file.put(static_cast<char>((1000 + change) & 0xFF));
        }
        file.close();
        const auto zip = ZipReader::open(bundle);
        REQUIRE(zip);
        CHECK_FALSE(zip->read("letter.txt", 4096));
    }
}

TEST_CASE("other zip files, other files, and bundles of a newer program are told apart") {
    const Good good;
    const fs::path folder = good.folder.path();
    CHECK(refusal(folder, folder / "nothing.zip").find("no file") != std::string::npos);
    std::ofstream{folder / "text.zip"} << "not a zip at all";
    CHECK(refusal(folder, folder / "text.zip").find("no bundle") != std::string::npos);
    write(folder / "other.zip", {{"letter.txt", "hello"}});
    CHECK(refusal(folder, folder / "other.zip").find("no bundle of Platewright") !=
          std::string::npos);
    for (const char* head : {R"({"format": "platewright.bundle/2", "tables": 1})",
                             R"({"format": "platewright.bundle/1", "tables": 9999})"}) {
        write(folder / "newer.zip", {{"bundle.json", head}});
        CHECK(refusal(folder, folder / "newer.zip").find("newer Platewright") != std::string::npos);
    }
}

TEST_CASE("figures, words and links that cannot be are refused as a whole") {
    const Good good;
    const fs::path folder = good.folder.path();
    const auto session = [](Json& row) -> Json& { return row["plate"][0]["session"][0]; };
    const std::vector<std::pair<const char*, std::function<void(Json&)>>> edits{
        {"a kind that is none", [](Json& row) { row["kind"] = "banjo"; }},
        {"a uid that is none", [](Json& row) { row["plate"][0]["uid"] = "../x"; }},
        {"a label that is no text", [](Json& row) { row["label"] = 7; }},
        {"a label that is lacking", [](Json& row) { row.erase("label"); }},
        {"a plate that is no object", [](Json& row) { row["plate"][0] = 5; }},
        {"plates that are no list", [](Json& row) { row["plate"] = "none"; }},
        {"a mass below nothing", [&](Json& row) { session(row)["mass_g"] = -3; }},
        {"a mass beyond all measure", [&](Json& row) { session(row)["mass_g"] = 1e300; }},
        {"a humidity of 200 %", [&](Json& row) { session(row)["humidity_pct"] = 200; }},
        {"a time that is none", [&](Json& row) { session(row)["begun_ms"] = 1e18; }},
        {"a tap outside its recording",
         [&](Json& row) { session(row)["tap"][0]["onset_index"] = 1200; }},
        {"a frequency of nothing",
         [&](Json& row) {
             session(row)["tap"][0]["reading"][0]["partial"][0]["frequency_hz"] = 0;
         }},
        {"a recording's name that is none",
         [&](Json& row) { session(row)["tap"][0]["recording"] = "x"; }},
        {"a verdict that is none", [&](Json& row) { session(row)["tap"][0]["verdict"] = "maybe"; }},
        {"a spot that answers twice",
         [&](Json& row) {
             Json& spots = session(row)["mode_set"][0]["mode"][0]["mode_spot"];
             spots.push_back(spots[0]);
         }},
    };
    for (const auto& [what, edit] : edits) {
        CAPTURE(what);
        CHECK(refusal(folder, edited(folder, edit)).find("Nothing was taken in") !=
              std::string::npos);
    }
    CHECK(refusal(folder, edited(folder, [](Json& row) {
                      row["made_by"] = {{"x", 1}};
                  })) == "taken"); // what is not known is passed over
}

TEST_CASE(
    "what a fresh ledger refuses is refused too where the bundle's word replaces the ledger's") {
    const Good good;
    const fs::path folder = good.folder.path();
    const auto session = [](Json& row) -> Json& { return row["plate"][0]["session"][0]; };
    const std::vector<std::pair<const char*, std::function<void(Json&)>>> edits{
        {"a tap outside its recording",
         [&](Json& row) { session(row)["tap"][0]["onset_index"] = 1200; }},
        {"a tap before its recording",
         [&](Json& row) { session(row)["tap"][0]["onset_index"] = -1; }},
        {"another rate than its recording's",
         [&](Json& row) { session(row)["tap"][0]["sample_rate_hz"] = 96000; }},
        {"a part that is none", [](Json& row) { row["plate"][0]["part"] = "lid"; }},
        {"a stage to come", [&](Json& row) { session(row)["stage"] = "polished"; }},
        {"a kind to come", [](Json& row) { row["kind"] = "violone"; }},
        {"a verdict to come", [&](Json& row) { session(row)["tap"][0]["verdict"] = "odd"; }},
    };
    Store store{folder / "two"};
    REQUIRE(store.take_bundle(folder / "good.zip"));
    const auto before = store.history(1);
    for (const auto& [what, edit] : edits) {
        CAPTURE(what);
        const auto report = store.take_bundle(edited(folder, edit), {.prefer_bundle = true});
        REQUIRE_FALSE(report);
        CHECK_THAT(report.fault().what, ContainsSubstring("Nothing was taken in."));
    }
    const auto after = store.history(1);
    REQUIRE(after);
    CHECK(after->plate.part == before->plate.part);
    CHECK(after->sessions[0].session.stage == before->sessions[0].session.stage);
    CHECK(after->sessions[0].taps[0].onset_index == before->sessions[0].taps[0].onset_index);
    CHECK(check(folder / "two").whole());
}

TEST_CASE("a bundle of a later program's words is told by the word") {
    const Good good;
    CHECK(refusal(good.folder.path(),
                  edited(good.folder.path(),
                         [](Json& row) { row["plate"][0]["part"] = "lid\u001b[31m"; }))
              .find("says “lid\uFFFD[31m” where") != std::string::npos);
}

TEST_CASE(
    "letters in a bundle that act unseen are made harmless, and the bundle is the same again") {
    const Good good;
    const fs::path folder = good.folder.path();
    const fs::path bundle = edited(folder, [](Json& row) { row["label"] = "Wren\u202e\u0007 I"; });
    Store store{folder / "two"};
    REQUIRE(store.take_bundle(bundle));
    CHECK(store.overview().at(0).instrument.label == "Wren\uFFFD\uFFFD I");
    const auto again = store.take_bundle(bundle);
    REQUIRE(again);
    CHECK(again->differences.empty());
}

TEST_CASE("a bundle of millions of empty rows is refused, and can be stopped while it is read") {
    const Good good;
    const fs::path folder = good.folder.path();
    std::string rows = "[";
    for (int i = 0; i < 1'100'000; ++i)
        rows += R"({"":0},)";
    rows += "{}]";
    std::string noise; // so that it does not shrink to less than a hundredth
    for (std::uint32_t i = 0, x = 1; i < 200'000; ++i, x = x * 1664525U + 1013904223U)
        noise += static_cast<char>('a' + (x >> 24U) % 26);
    Entries entries = entries_of(folder / "good.zip");
    std::erase_if(entries, [](const auto& entry) { return entry.first == "wood.json"; });
    entries.emplace_back("wood.json", "[{\"x\": \"" + noise + "\", \"y\": " + rows + "}]");
    write(folder / "many.zip", entries);
    CHECK(refusal(folder, folder / "many.zip").find("Nothing was taken in") != std::string::npos);
    Store store{folder / "two"};
    int asked = 0;
    const auto stopped =
        store.take_bundle(folder / "many.zip", {}, [&](double) { return ++asked < 3; });
    REQUIRE(stopped);
    CHECK(stopped->stopped);
    CHECK(asked == 3);
}

TEST_CASE("a recording that is not what its name says is refused") {
    const Good good;
    Entries entries = entries_of(good.folder.path() / "good.zip");
    for (auto& [name, text] : entries)
        if (name.starts_with("recordings/"))
            text.back() = static_cast<char>(text.back() ^ 1);
    write(good.folder.path() / "false.zip", entries);
    CHECK(refusal(good.folder.path(), good.folder.path() / "false.zip")
              .find("Nothing was taken in") != std::string::npos);
}

TEST_CASE("JSON nested without end is refused") {
    const Good good;
    write(good.folder.path() / "deep.zip", {{"bundle.json", std::string(200'000, '[')}});
    CHECK(
        refusal(good.folder.path(), good.folder.path() / "deep.zip").find("Nothing was taken in") !=
        std::string::npos);
}

TEST_CASE("a disk that fails at any moment leaves all of a bundle or nothing of it") {
    const Good good;
    const fs::path folder = good.folder.path();
    bool struck = true;
    int calls = 0;
    for (; struck; ++calls) {
        CAPTURE(calls);
        const TemporaryFolder other{memory_folder()};
        Store store{other.path() / "two"};
        Faults::arm(calls, ENOSPC, true);
        bool taken = false;
        try {
            taken = bool{store.take_bundle(folder / "good.zip")};
            CHECK(taken);
        } catch (const base::Failure& failure) {
            CHECK_THAT(failure.what(), ContainsSubstring("disk"));
        }
        Faults::disarm();
        struck = Faults::struck();
        CHECK(store.overview().size() == (taken ? 1U : 0U));
        CHECK(store.take_bundle(folder / "good.zip")); // once there is room
        CHECK(store.overview().size() == 1);
        CHECK(check(other.path() / "two").whole());
    }
    CHECK(calls > 6);
}
