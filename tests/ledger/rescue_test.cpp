#include "base/failure.hpp"
#include "ledger/files/recording_file.hpp"
#include "ledger/files/tap_label.hpp"
#include "ledger/mend/backups.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/mend/mend.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <fstream>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

TEST_CASE("what a recording says of its tap is read as it was written, and nothing else is taken "
          "for it") {
    const TapLabel label{"0123abcd", {1'700'000'200'007},    123456789012,
                         480,        taps::Spot::waist_left, taps::Verdict::noise_before};
    const auto read = label_from_text(to_text(label));
    REQUIRE(read);
    CHECK(read->session_uid == label.session_uid);
    CHECK(read->at == label.at);
    CHECK(read->onset_frame == label.onset_frame);
    CHECK(read->onset_index == label.onset_index);
    CHECK(read->spot == label.spot);
    CHECK(read->verdict == label.verdict);
    const std::string text = to_text(label);
    for (std::size_t cut = 0; cut < text.size(); cut += 3)
        CHECK_FALSE(label_from_text(text.substr(0, cut)));
    CHECK(read->facts.empty()); // as recordings said it before version 5 of the tables
    TapLabel with_facts = label;
    with_facts.facts = R"({"a": "b; full scale 2^3; verdict accepted"})";
    CHECK(label_from_text(to_text(with_facts))->facts == with_facts.facts);
    CHECK(label_from_text(to_text(with_facts))->verdict == label.verdict);
    CHECK(decode_recording(encode_recording(some_sound(1).samples, 48000, to_text(with_facts)))
              .description == to_text(with_facts));
    CHECK_FALSE(label_from_text("a song about a plate"));
}

TEST_CASE(
    "with yesterday's copy of the database, today's taps are put back from their recordings") {
    const TemporaryFolder folder;
    std::filesystem::path copy;
    {
        Workshop workshop{folder.path()};
        workshop.add_tap(1);
        copy = *back_up(folder.path(), base::now());
        workshop.add_tap(2);
        TapRecord refused = some_tap(workshop.session, 3);
        refused.verdict = taps::Verdict::struck_twice;
        workshop.store.add(refused, some_sound(3));
    }
    std::filesystem::copy_file(copy, folder.path() / "ledger.sqlite",
                               std::filesystem::copy_options::overwrite_existing);
    const auto foreign = encode_recording(some_sound(9).samples, 48000, "somebody else's");
    const std::string stray(64, 'b');
    std::filesystem::create_directories(folder.path() / "recordings" / "bb");
    std::ofstream{folder.path() / "recordings" / "bb" / (stray + ".flac"), std::ios::binary}.write(
        reinterpret_cast<const char*>(foreign.data()),
        static_cast<std::streamsize>(foreign.size()));

    Store store{folder.path()};
    CHECK(store.history(1)->sessions[0].taps.size() == 1);
    const RescueReport report = store.rescue();
    CHECK(report.taps == 2);
    CHECK(report.strangers == 0);
    CHECK(report.unreadable == 1);
    const auto history = store.history(1);
    const auto& taps = history->sessions[0].taps;
    REQUIRE(taps.size() == 3);
    CHECK(taps[1].onset_frame == 2000);
    CHECK(taps[1].onset_index == 480);
    CHECK(taps[1].spot == taps::Spot::lower_bout_left);
    CHECK(taps[1].peak_dbfs == some_sound(2).peak_dbfs);
    CHECK(taps[1].noise_dbfs == some_sound(2).noise_dbfs);
    CHECK(taps[1].partials.empty());
    CHECK(taps[2].verdict == taps::Verdict::struck_twice);
    CHECK(store.load(taps[2]).samples.size() == some_sound(3).samples.size());
    CHECK(store.rescue().taps == 0);
    CHECK(check(folder.path()).missing.empty());
}

TEST_CASE("nothing is put back where nothing can be written, and that is said") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    workshop.add_tap(1);
    Store reader{folder.path()};
    REQUIRE(reader.read_only());
    CHECK_THROWS_WITH(reader.rescue(), ContainsSubstring("can only be read"));
    CHECK(workshop.store.history(workshop.plate)->sessions[0].taps.size() == 1);
}

TEST_CASE("a recording whose name is not its content's is not put back") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    workshop.add_tap(1);
    const TapRecord tap = workshop.store.history(workshop.plate)->sessions[0].taps[0];
    const auto whole = folder.path() / "recordings" / tap.recording.substr(0, 2);
    std::filesystem::create_directories(folder.path() / "recordings" / "cc");
    const auto stray = std::string(64, 'c') + ".flac";
    std::filesystem::copy(whole / (tap.recording + ".flac"),
                          folder.path() / "recordings" / "cc" / stray);
    const RescueReport report = workshop.store.rescue();
    CHECK(report.unreadable == 1);
    CHECK(report.taps + report.sessions + report.corrected == 0);
    CHECK(workshop.store.history(workshop.plate)->sessions[0].taps.size() == 1);
}

TEST_CASE(
    "a plate that was renamed and moved keeps its new name and place when facts are read again") {
    const TemporaryFolder folder;
    {
        Workshop workshop{folder.path()};
        workshop.add_tap(1);
        PlateRecord plate = workshop.store.history(workshop.plate)->plate;
        plate.label = "Top II";
        plate.instrument = workshop.store.add(some_instrument());
        workshop.store.update(plate);
        const RescueReport report = workshop.store.rescue();
        CHECK(report.corrected == 0);
        CHECK(workshop.store.history(workshop.plate)->plate.label == "Top II");
        CHECK(workshop.store.history(workshop.plate)->instrument.id == plate.instrument);
    }
    for (const char* name : {"ledger.sqlite", "ledger.sqlite-wal", "ledger.sqlite-shm"})
        std::filesystem::remove(folder.path() / name);
    CHECK(mend(folder.path()).found.sessions == 1);
    const Store store{folder.path()};
    REQUIRE(store.find_plates("Top II").size() == 1);
    CHECK(store.overview().at(1).plates.size() + store.overview().at(0).plates.size() == 1);
    CHECK(store.overview().at(1).plates.size() == 1);
}
