#include "ledger/full_workshop.hpp"
#include "ledger/tables/schema.hpp"
#include "support/catch.hpp"

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

TEST_CASE("a plate's shape, map, pins, flex readings and plan come back as they were given") {
    const TemporaryFolder folder;
    Id plate = 0;
    {
        Workshop w{folder.path()};
        plate = w.plate;
        w.store.set_form(plate, some_form());
        w.store.set_thickness(w.session,
                              {{{0.0, 178.0}, 4.55, "centre"}, {{-40.5, 80.0}, 3.1, ""}});
        w.store.add(PinRecord{0, w.session, {12.5, 200.0}, "stiff here"});
        w.store.add(FlexRecord{0, w.session, FlexKind::crosswise, 150.0, 500.0, 1.75});
        w.store.add(some_plan(w.session));
    }
    const Store store{folder.path()};
    const auto history = store.history(plate);
    REQUIRE(history->form);
    const FormRecord &form = *history->form, given = some_form();
    CHECK(form.size.length_mm == given.size.length_mm);
    CHECK(form.size.lower_mm == given.size.lower_mm);
    REQUIRE(form.rim.size() == given.rim.size());
    CHECK(form.rim[1].x_mm == 103.0);
    CHECK(form.arching.cross_fullness == 2.1);
    REQUIRE(form.heights.size() == 2);
    CHECK(form.heights[1].at.x_mm == 30.0);
    CHECK(form.heights[1].height_mm == 13.5);
    CHECK(form.f_holes->lower.y_mm == given.f_holes->lower.y_mm);
    CHECK(form.f_hole_rims == given.f_hole_rims);
    CHECK(form.f_holes->lower_eye_mm == given.f_holes->lower_eye_mm);
    CHECK(form.bar->upper.y_mm == given.bar->upper.y_mm);
    CHECK(form.bar->density_kg_m3 == 401.0);
    CHECK(form.species == "norway_spruce");
    CHECK_FALSE(form.two_piece);
    CHECK(form.right_density == 1.05);
    CHECK(form.rings_left_deg == -7.5);
    CHECK(form.rings_right_deg == 4.25);
    CHECK(form.run_out_deg == -2.0);
    CHECK(form.right_stiffness == 0.92);

    const SessionHistory& session = history->sessions.at(0);
    REQUIRE(session.thickness.readings.size() == 2);
    CHECK(session.thickness.readings[0].name == "centre");
    CHECK(session.thickness.readings[1].thickness_mm == 3.1);
    CHECK(session.pins.at(0).text == "stiff here");
    CHECK(session.pins.at(0).at.y_mm == 200.0);
    CHECK(session.flex.at(0).kind == FlexKind::crosswise);
    CHECK(session.flex.at(0).deflection_mm == 1.75);
    REQUIRE(session.plan);
    CHECK(session.plan->summary == some_plan(0).summary);
    CHECK(session.plan->modes.at(0).pass_sd_hz == 0.25);
    CHECK(session.plan->modes.at(1).firmness == .05);
    CHECK(session.plan->strokes.at(0).mirrored);
    CHECK(session.plan->strokes.at(1).depth_mm == 0.6);
}

TEST_CASE("the newest form, map and plan count, and what they replace stays in the database") {
    const TemporaryFolder folder;
    {
        Workshop w{folder.path()};
        w.store.set_form(w.plate, some_form());
        FormRecord second = some_form();
        second.rim.clear();
        second.bar.reset();
        second.arching.arch_mm = 16.5;
        w.store.set_form(w.plate, second);
        w.store.set_thickness(w.session, {{{0.0, 178.0}, 4.55, ""}});
        w.store.set_thickness(w.session, {{{0.0, 178.0}, 4.5, ""}, {{10.0, 50.0}, 3.5, ""}});
        w.store.add(some_plan(w.session));
        PlanRecord later = some_plan(w.session);
        later.summary = "later";
        w.store.add(later);
        const auto history = w.store.history(w.plate);
        CHECK(history->form->arching.arch_mm == 16.5);
        CHECK(history->form->rim.empty());
        CHECK_FALSE(history->form->bar);
        CHECK(history->sessions[0].thickness.readings.size() == 2);
        CHECK(history->sessions[0].plan->summary == "later");
    }
    Database database{folder.path() / "ledger.sqlite", Database::Access::read_only};
    for (const auto& [sql, count] :
         {std::pair{"SELECT count(*) FROM form", 2}, std::pair{"SELECT count(*) FROM thickness", 3},
          std::pair{"SELECT count(*) FROM plan", 2}}) {
        Statement row{database, sql};
        REQUIRE(row.step());
        CHECK(row.integer() == count);
    }
}

TEST_CASE("pins and flex readings go into the bin and come out of it") {
    const TemporaryFolder folder;
    Workshop w{folder.path()};
    const Id pin = w.store.add(PinRecord{0, w.session, {0.0, 200.0}, "moves well"});
    const Id flex = w.store.add(FlexRecord{0, w.session, FlexKind::twist, 200.0, 250.0, 3.0});
    w.store.bin("pin", pin);
    w.store.bin("flex", flex);
    CHECK(w.store.history(w.plate)->sessions[0].pins.empty());
    CHECK(w.store.history(w.plate)->sessions[0].flex.empty());
    w.store.unbin("pin", pin);
    w.store.unbin("flex", flex);
    CHECK(w.store.history(w.plate)->sessions[0].pins.size() == 1);
    CHECK(w.store.history(w.plate)->sessions[0].flex.size() == 1);
}

TEST_CASE("a map that can't be kept whole is not kept at all") {
    const TemporaryFolder folder;
    Workshop w{folder.path()};
    w.store.set_thickness(w.session, {{{0.0, 178.0}, 4.5, ""}});
    // the database itself refuses the second reading
    CHECK_THROWS_AS(
        w.store.set_thickness(w.session, {{{0.0, 178.0}, 4.4, ""}, {{10.0, 50.0}, -1.0, ""}}),
        std::exception);
    const auto kept = w.store.history(w.plate)->sessions[0].thickness.readings;
    REQUIRE(kept.size() == 1);
    CHECK(kept[0].thickness_mm == 4.5);
}

TEST_CASE("a ledger of schema 1 has no shapes until they are said") {
    const TemporaryFolder folder;
    std::filesystem::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-1", folder.path(),
                          std::filesystem::copy_options::recursive);
    Store store{folder.path()};
    CHECK_FALSE(store.history(1)->form);
    CHECK(store.history(1)->sessions[0].thickness.readings.empty());
    CHECK_FALSE(store.history(1)->sessions[0].plan);
    store.set_form(1, some_form());
    CHECK(store.history(1)->form->size.upper_mm == 168.25);
}
