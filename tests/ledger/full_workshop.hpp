#pragma once
#include "ledger/workshop.hpp"

namespace platewright::test {

inline ledger::FormRecord some_form() {
    ledger::FormRecord form;
    form.size = {355.5, 168.25, 111.0, 207.75};
    form.rim = {{0.0, 0.0}, {103.0, 70.5}, {0.25, 355.5}, {-103.0, 70.5}};
    form.arching = {15.25, 4.1, 2.5, 2.1};
    form.heights = {{{0.0, 178.0}, 15.25}, {{30.0, 178.0}, 13.5}};
    form.f_holes = plate::usual_f_hole(form.size);
    form.f_hole_rims = {{{40.5, 130.0}, {44.25, 160.0}, {40.5, 190.0}},
                        {{-40.0, 131.0}, {-40.0, 189.0}, {-44.0, 160.0}}};
    form.bar = plate::usual_bar(form.size);
    form.bar->density_kg_m3 = 401.0;
    form.species = "norway_spruce";
    form.two_piece = false;
    form.right_density = 1.05;
    form.right_stiffness = 0.92;
    form.rings_left_deg = -7.5;
    form.rings_right_deg = 4.25;
    form.run_out_deg = -2.0;
    return form;
}

inline ledger::PlanRecord some_plan(ledger::Id session) {
    ledger::PlanRecord plan;
    plan.session = session;
    plan.made = {1'700'000'300'000};
    plan.model_version = "1";
    plan.pass_share = 0.4;
    plan.wood_g = 3.25;
    plan.summary = "Épaisseur: a little off the middle";
    plan.modes = {{5, 362.5, 350.0, 1.0, 350.1, 0.75, 357.5, 0.25},
                  {1, 113, 113, .05, 112, .5, 112.5, .25}};
    plan.strokes = {{{30.0, 150.0}, true, 0.4}, {{0.0, 180.0}, false, 0.6}};
    return plan;
}

inline ledger::WeighingRecord some_weighing(ledger::Id session) {
    return {
        0,    session, {1'700'000'250'000}, {-12.5, 178.25}, "Mitte", ledger::LaidThing::magnets,
        0.62, 1.5};
}

inline void fill_wood(Workshop& workshop) {
    ledger::Store& store = workshop.store;
    const ledger::Id wood = store.add(ledger::WoodRecord{.label = "Fichte 7",
                                                         .species = "norway_spruce",
                                                         .origin = "forêt",
                                                         .created = {1'700'000'000'500}});
    ledger::WoodTestRecord test{.wood = wood,
                                .at = {1'700'000'000'600},
                                .along_mm = 400.0,
                                .across_mm = 120.0,
                                .thickness_mm = 50.0};
    test.mass_g = 960.0;
    const std::vector modes{
        ledger::WoodModeRecord{ledger::WoodMotion::sound_along, 6800.0, 2.0, 120.0, 4.0, 5, "2"}};
    store.add(test, modes);
    store.set_carved(workshop.plate, wood);
    store.set_target(workshop.plate, 5, 340.0);
}

/// Something of everything that a ledger keeps. tests/data/MANIFEST.md lists it.
inline void fill(Workshop& workshop) {
    ledger::Store& store = workshop.store;
    store.add(some_session(workshop.plate, 3));
    const ledger::Id tap = store.add(some_tap(workshop.session, 1), some_sound(1, 1200));
    store.add_reading(tap, "2", {some_partial(151.5), some_partial(311.5)});
    ledger::TapRecord refused = some_tap(workshop.session, 2);
    refused.verdict = taps::Verdict::struck_twice;
    refused.weighing = store.add(some_weighing(workshop.session));
    store.add(refused, some_sound(2, 1200));
    store.bin("tap", store.add(some_tap(workshop.session, 3), some_sound(3, 1200)));
    store.set_modes(workshop.session, {some_mode(151.0, 2), some_mode(311.0)});
    store.name_mode(workshop.session, 311.0, 5);
    store.add_reference(workshop.session, "the good one");
    store.set_setting("input.name", "hw:1");
    store.set_form(workshop.plate, some_form());
    store.set_thickness(workshop.session,
                        {{{0.0, 178.0}, 4.55, "centre"}, {{-40.5, 80.0}, 3.1, ""}});
    store.add(ledger::PinRecord{0, workshop.session, {12.5, 200.0}, "stiff here"});
    store.add(
        ledger::FlexRecord{0, workshop.session, ledger::FlexKind::crosswise, 150.0, 500.0, 1.75});
    store.add(some_plan(workshop.session));
    fill_wood(workshop);
}

} // namespace platewright::test
