#include "support/catch.hpp"
#include "trends/review/flex_review.hpp"
#include "trends/story.hpp"

using namespace platewright;
using namespace platewright::trends;
using platewright::test::Story;
using platewright::test::story;

namespace {

plate::Outline violin() { return *plate::make_outline({355.0, 167.0, 110.0, 207.0}); }

/// What a plate of this wood does, as it would be read.
std::vector<ledger::FlexRecord> readings_of(const Story& told, const PlateStudy& study) {
    std::vector<ledger::FlexRecord> records{
        {0, 1, ledger::FlexKind::lengthwise, 300.0, 1000.0, 1.0},
        {0, 1, ledger::FlexKind::crosswise, 160.0, 1000.0, 1.0},
        {0, 1, ledger::FlexKind::twist, 250.0, 300.0, 1.0}};
    for (auto& record : records) {
        const auto reading = flex_reading(record, study.model->form().outline);
        REQUIRE(reading);
        record.deflection_mm = plate::flex_value(*study.model, study.thickness_mm,
                                                 plate::ArchShift::Zero(), told.wood, *reading)
                                   .deflection_mm;
    }
    return records;
}

} // namespace

TEST_CASE("a flex reading's places follow from its kind and span") {
    const auto lengthwise =
        flex_reading({0, 0, ledger::FlexKind::lengthwise, 300.0, 500.0, 1.2}, violin());
    REQUIRE(lengthwise);
    CHECK(lengthwise->supports.size() == 4);
    CHECK(lengthwise->supports[0].y_mm - lengthwise->supports[2].y_mm == Approx(300.0));
    CHECK(lengthwise->load.y_mm == Approx(177.5));
    const auto crosswise =
        flex_reading({0, 0, ledger::FlexKind::crosswise, 180.0, 500.0, 1.2}, violin());
    REQUIRE(crosswise);
    CHECK(crosswise->supports[3].x_mm - crosswise->supports[0].x_mm == Approx(180.0));
    const auto twist = flex_reading({0, 0, ledger::FlexKind::twist, 250.0, 200.0, 1.2}, violin());
    REQUIRE(twist);
    CHECK(twist->supports.size() == 3);
    CHECK(twist->load.x_mm > 0.0);
}

TEST_CASE("a flex reading that can't be is refused, naming it") {
    for (const ledger::FlexRecord& bad :
         {ledger::FlexRecord{0, 0, ledger::FlexKind::lengthwise, 400.0, 500.0, 1.0},
          ledger::FlexRecord{0, 0, ledger::FlexKind::crosswise, 230.0, 500.0, 1.0},
          ledger::FlexRecord{0, 0, ledger::FlexKind::twist, -5.0, 500.0, 1.0},
          ledger::FlexRecord{0, 0, ledger::FlexKind::twist, 200.0, 0.0, 1.0},
          ledger::FlexRecord{0, 0, ledger::FlexKind::lengthwise, 300.0, 500.0, 45.0}}) {
        const auto answer = flex_reading(bad, violin());
        REQUIRE_FALSE(answer);
        CHECK(answer.fault().what.find(ledger::to_word(bad.kind)) != std::string::npos);
        CHECK(answer.fault().what.find("Nothing was stored") != std::string::npos);
    }
}

TEST_CASE("flex readings of a plate agree with its model, and make the fit surer of the wood") {
    // with the arch known: where it is open, a flex tells of the arch as well as of the wood
    ledger::PlateHistory history = story().with_heights();
    const auto plain = study_plate(history, 2);
    REQUIRE(plain);
    history.sessions[2].flex = readings_of(story(), *plain);
    const auto flexed = study_plate(history, 2);
    REQUIRE(flexed);
    REQUIRE(flexed->flexes.size() == 3);
    for (const FlexCheck& check : flexed->flexes) {
        CHECK(check.model_mm == Approx(check.record.deflection_mm).epsilon(0.05));
        CHECK(check.model_sd_mm > 0.0);
        CHECK(std::abs(check.deviations) < 1.0);
    }
    CHECK(flexed->fit.sd(plate::FitUnknown::e_r) < 0.9 * plain->fit.sd(plate::FitUnknown::e_r));
    CHECK(flexed->fit.sd(plate::FitUnknown::e_l) < 0.9 * plain->fit.sd(plate::FitUnknown::e_l));
}

TEST_CASE("a session with flex readings and a map counts in the fit without taps") {
    ledger::PlateHistory history = story().history;
    const auto plain = study_plate(history, 2);
    history.sessions.resize(1);
    history.sessions[0].flex = readings_of(story(), *plain);
    history.sessions[0].modes.clear();
    const auto flexed = study_plate(history, 0);
    REQUIRE(flexed);
    CHECK(flexed->fitted == std::vector<std::size_t>{0});
    CHECK(flexed->fit.status == plate::FitStatus::ok);
}
