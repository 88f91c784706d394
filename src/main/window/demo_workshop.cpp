#include "main/window/demo_workshop.hpp"

#include "base/failure.hpp"
#include "base/text.hpp"
#include "ledger/store.hpp"
#include "main/run_self.hpp"

#include <algorithm>
#include <cstdlib>
#include <fmt/format.h>
#include <fstream>
#include <map>
#include <set>

namespace platewright::cli {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using Words = std::vector<std::string>;

constexpr const char* k_newest = "wren-back-9.flac";
constexpr const char* k_marker = "workshop";
constexpr const char* k_marked = "demo, invented";

/// Beside an installed program, or in the sources it was built in.
std::optional<fs::path> recordings_folder() {
    std::error_code ignored;
    for (fs::path folder = own_program().parent_path(); folder.has_relative_path();
         folder = folder.parent_path())
        for (const char* place : {"share/platewright/sample-audio", "sample-audio"})
            if (fs::exists(folder / place / "manifest.json", ignored))
                return folder / place;
    return std::nullopt;
}

json read_list(const fs::path& file) {
    std::ifstream in(file);
    return json::parse(in); // throws what the caller turns into a sentence
}

std::string text_of(const json& value) {
    return value.is_string() ? value.get<std::string>() : value.dump();
}

/// An option a field, in the words that the command line takes.
void say_fields(Words& words, const json& from, const std::map<std::string, std::string>& options) {
    for (const auto& [option, field] : options) {
        words.push_back("--" + option);
        words.push_back(text_of(from.at(field)));
    }
}

/// What map_generator gave the plates.
Words shape_of(const std::string& part) {
    if (part == "back")
        return {"--species", "red_maple", "--arch", "15", "--edge", "4"};
    return {"--species", "norway_spruce", "--arch", "15", "--edge", "4", "--fullness", "3:1.8"};
}

Words spots_of(const json& recording) {
    constexpr double k_before_s = 0.3; // the strike's own first touch lies within its spot
    Words words;
    std::string spot;
    for (const json& strike : recording.at("strikes")) {
        if (strike.at("spot") == spot)
            continue;
        spot = strike.at("spot");
        const double from_s = std::max(0.0, strike.at("onset_s").get<double>() - k_before_s);
        words.insert(words.end(), {"--spot", base::fixed(from_s, 3) + ":" + spot});
    }
    return words;
}

/// A test of the wood in stock, as `wood add` takes it.
Words test_words(const json& test, const fs::path& ledger) {
    Words words{"wood",     "add",           test.at("wood"),
                "--ledger", ledger.string(), "--notes",
                "invented", "--when",        test.at("when").get<std::string>() + "Z"};
    say_fields(words, test,
               {{"species", "species"},
                {"origin", "origin"},
                {"piece", "piece"},
                {"along", "along_mm"},
                {"across", "across_mm"},
                {"thickness", "thickness_mm"},
                {"mass", "mass_g"},
                {"temperature", "temperature_c"},
                {"humidity", "humidity_pct"}});
    for (const auto& [motion, heard] : test.at("motions").items())
        words.insert(words.end(),
                     {"--motion", fmt::format("{}={}@{}", motion, text_of(heard.at("hz")),
                                              text_of(heard.at("q")))});
    return words;
}

void run_words(const Words& words) {
    if (const int code = run_self(words); code != 0)
        throw base::Failure("The demo workshop could not be entered; nothing else was touched. The "
                            "lines above say why.",
                            fmt::format("platewright {} ended with {}", words.front(), code));
}

} // namespace

base::Result<DemoWorkshop> DemoWorkshop::open() {
    const auto folder = recordings_folder();
    if (!folder)
        return base::Fault{
            "The demo workshop's recordings are not beside this program; its package "
            "brings them, and so do its sources (sample-audio)."};
    try {
        return DemoWorkshop(*folder, read_list(*folder / "manifest.json").at("recordings"),
                            read_list(*folder / "wood.json"));
    } catch (const json::exception&) {
        return base::Fault{fmt::format("The lists of the demo workshop in “{}” can't be read; "
                                       "install the program again.",
                                       folder->string())};
    }
}

fs::path DemoWorkshop::newest() const { return folder_ / k_newest; }

bench::RecordedStrikes DemoWorkshop::strikes() const {
    bench::RecordedStrikes all{.recording = newest()};
    for (const json& one : recordings_) {
        if (one.at("file") != k_newest)
            continue;
        all.plate = one.at("plate").get<std::string>();
        all.mass_g = one.at("mass_g").get<double>();
        for (const json& strike : one.at("strikes"))
            all.strikes.push_back({strike.at("onset_s").get<double>(),
                                   taps::spot_from_word(strike.at("spot").get<std::string>())
                                       .value_or(taps::Spot::unknown)});
    }
    return all;
}

void DemoWorkshop::enter(const json& recording, const fs::path& ledger, bool with_sound) const {
    Words words{"enter",
                "--ledger",
                ledger.string(),
                "--when",
                recording.at("when").get<std::string>() + "Z",
                "--notes",
                recording.at("notes").get<std::string>() + " (invented)"};
    say_fields(words, recording,
               {{"plate", "plate"},
                {"instrument", "instrument"},
                {"kind", "kind"},
                {"part", "part"},
                {"wood", "wood"},
                {"stage", "stage"},
                {"mass", "mass_g"},
                {"temperature", "temperature_c"},
                {"humidity", "humidity_pct"}});
    if (recording.at("plate") == k_reference)
        words.insert(words.end(), {"--reference", "Heron back, the one we liked"});
    const fs::path file = folder_ / recording.at("file").get<std::string>();
    if (with_sound) {
        const Words spots = spots_of(recording);
        words.insert(words.end(), spots.begin(), spots.end());
        words.push_back(file.string());
    }
    run_words(words);
    if (recording.at("part") == "body")
        return; // it has no caliper readings
    Words map{"caliper", recording.at("plate"), fs::path(file).replace_extension(".csv").string(),
              "--ledger", ledger.string()};
    const Words shape = shape_of(recording.at("part"));
    map.insert(map.end(), shape.begin(), shape.end());
    run_words(map);
}

void DemoWorkshop::fill(const fs::path& folder, Newest newest,
                        const std::function<void(const std::string&)>& told) const {
    fs::path made = folder;
    made += ".demo-being-made"; // of one that was stopped half-way, nothing counts
    fs::remove_all(made);
    std::vector<const json*> all;
    for (const json& one : recordings_)
        if (newest != Newest::left_out || one.at("file") != k_newest)
            all.push_back(&one);
    // The closed body first, so that the plate worked on last is the one that opens.
    std::ranges::sort(all, {}, [&](const json* one) {
        return std::make_tuple(newest == Newest::begun && one->at("file") == k_newest,
                               one->at("part") != "body", one->at("when").get<std::string>());
    });
    for (const json* one : all) {
        enter(*one, made, newest != Newest::begun || one->at("file") != k_newest);
        told(fmt::format("{}, {}", one->at("plate").get<std::string>(),
                         one->at("when").get<std::string>().substr(0, 10)));
    }
    std::set<std::string> woods;
    for (const json& test : wood_.at("tests")) {
        run_words(test_words(test, made));
        woods.insert(test.at("wood"));
    }
    for (const auto& [plate, label] : wood_.at("plates").items())
        run_words({"wood", "carve", plate, label, "--ledger", made.string()});
    told(fmt::format("{} woods", woods.size()));
    ledger::Store(made).set_setting(k_marker, k_marked);
    fs::rename(made, folder);
}

void DemoWorkshop::enter_newest(const fs::path& folder) const {
    for (const json& one : recordings_)
        if (one.at("file") == k_newest)
            enter(one, folder, true);
}

fs::path DemoWorkshop::usual_folder() {
    const char* home = std::getenv("HOME");
    return fs::path(home != nullptr && *home != '\0' ? home : ".") / "Platewright demo (invented)";
}

bool DemoWorkshop::is_demo(const fs::path& folder) {
    return ledger::Store(folder, ledger::Access::read_only).setting(k_marker) == k_marked;
}

} // namespace platewright::cli
