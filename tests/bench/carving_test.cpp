#include "awaiting.hpp"
#include "base/failure.hpp"
#include "bench/engine.hpp"
#include "bench/model/carving.hpp"
#include "morning.hpp"
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"
#include "trends/story.hpp"

#include <chrono>

using namespace platewright;
using namespace platewright::bench;
using platewright::test::Story;
using platewright::test::TemporaryFolder;

namespace {

using namespace std::chrono_literals;

/// A ledger with an invented back of one session, its modes named; on the bench.
struct Room {
    TemporaryFolder folder;
    ledger::Store store{folder.path() / "ledger"};
    Workbench workbench{store, {}};
    std::mutex door;
    std::condition_variable woken;
    Carving carving{store, workbench, [this] {
                        const std::lock_guard lock(door);
                        woken.notify_all();
                    }};
    Story story{{0.0}};

    Room() {
        const auto instrument = store.add(ledger::InstrumentRecord{.label = "Story"});
        ledger::PlateRecord plate = story.history.plate;
        plate.instrument = instrument;
        const auto id = store.add(plate);
        ledger::SessionRecord session = story.history.sessions[0].session;
        session.plate = id;
        const auto at = store.add(session);
        std::vector<ledger::ModeRecord> modes = story.history.sessions[0].modes;
        for (auto& mode : modes)
            mode.analysis_version = "1";
        store.set_modes(at, modes);
        workbench.open_plate(id);
    }

    void keep_map() {
        carving.execute(command::SetThickness{workbench.session(),
                                              story.history.sessions[0].thickness.readings});
    }

    /// Taps enough to decide by, and a goal for the ring.
    void tap_and_aim() {
        const ledger::Id session = workbench.session();
        for (std::uint32_t t = 0; t < 3; ++t)
            store.add(ledger::TapRecord{.session = session,
                                        .at = base::now(),
                                        .verdict = taps::Verdict::accepted,
                                        .sample_rate_hz = 48000,
                                        .analysis_version = "1"},
                      test::ring(t));
        std::vector<ledger::ModeRecord> modes = store.history(workbench.plate())->sessions[0].modes;
        for (auto& mode : modes) {
            mode.mode.taps = 6;
            mode.mode.spread_hz = 0.2;
            mode.mode.q = 60.0;
        }
        store.set_modes(session, modes);
        for (const auto& mode : modes) // else a tap elsewhere would be asked for first
            store.name_mode(session, mode.mode.frequency_hz, mode.name->number);
        store.set_target(workbench.plate(), 5, modes.back().mode.frequency_hz - 9.0);
        workbench.reload();
    }
    const trends::Decision& decision() { return workbench.view()->decision; }

    /// Waits, up to a minute, for what the worker publishes.
    std::shared_ptr<const PlateWork> seen(const std::function<bool(const PlateWork&)>& wanted) {
        std::unique_lock lock(door);
        const bool came = woken.wait_for(lock, 60s, [&] {
            const auto work = carving.view();
            return work && wanted(*work);
        });
        REQUIRE(came);
        return carving.view();
    }
    std::shared_ptr<const PlateWork> at_rest() {
        return seen([](const PlateWork& work) { return work.doing.empty(); });
    }
};

} // namespace

TEST_CASE("readings are kept with the session, and an unsaid shape becomes the usual one") {
    Room room;
    room.keep_map();
    const auto& history = *room.workbench.history();
    CHECK(history.form->size.length_mm == 355.0);
    CHECK(history.sessions[0].thickness.readings.size() ==
          room.story.history.sessions[0].thickness.readings.size());
}

TEST_CASE("what can't be is refused with its sentence, and nothing is stored") {
    Room room;
    auto readings = room.story.history.sessions[0].thickness.readings;
    readings[3].thickness_mm = -1.0;
    CHECK_THROWS_AS(room.carving.execute(command::SetThickness{room.workbench.session(), readings}),
                    base::Failure);
    CHECK_FALSE(room.workbench.history()->form);
    ledger::FormRecord form = trends::usual_form(ledger::InstrumentRecord{});
    form.arching.arch_mm = 3.0;
    CHECK_THROWS_WITH(room.carving.execute(command::SetForm{form}), ContainsSubstring("arch"));
    CHECK_FALSE(room.workbench.history()->form);
    CHECK_THROWS_AS(room.carving.execute(command::AddPin{{0, 0, {0.0, 100.0}, "  "}}),
                    base::Failure);
    CHECK_THROWS_AS(room.carving.execute(command::AddPin{{0, 0, {500.0, 100.0}, "off"}}),
                    base::Failure);
    CHECK_THROWS_AS(room.carving.execute(
                        command::AddFlex{{0, 0, ledger::FlexKind::lengthwise, 900.0, 500.0, 1.0}}),
                    base::Failure);
    CHECK(room.workbench.history()->sessions[0].pins.empty());
    CHECK(room.workbench.history()->sessions[0].flex.empty());
}

TEST_CASE("pins and flex readings are kept with the open session") {
    Room room;
    room.carving.execute(command::AddPin{{0, 0, {10.0, 100.0}, " stiff here "}});
    room.carving.execute(command::AddFlex{{0, 0, ledger::FlexKind::lengthwise, 300.0, 500.0, 1.0}});
    const auto& session = room.workbench.history()->sessions[0];
    REQUIRE(session.pins.size() == 1);
    CHECK(session.pins[0].text == "stiff here");
    REQUIRE(session.flex.size() == 1);
    CHECK(session.flex[0].span_mm == 300.0);
}

TEST_CASE("map, model and plan come aside, and the plan is kept with the session of its map") {
    Room room;
    room.carving.execute(command::StudyPlate{});
    CHECK(room.at_rest()->trouble.find("shape is not known") != std::string::npos);
    room.keep_map();
    room.carving.execute(command::StudyPlate{});
    const auto work = room.seen([](const PlateWork& w) { return w.doing.empty() && w.study; });
    CHECK(work->of == inputs_of(*room.workbench.history(), 0));
    CHECK(work->map);
    CHECK(work->trouble.empty());
    command::MakePlan plan;
    plan.request.limits = trends::usual_limits(modes::InstrumentKind::violin);
    plan.request.wishes = {{5, work->study->tapped.back().frequency_hz - 6.0}};
    room.carving.execute(plan);
    const auto planned = room.seen([](const PlateWork& w) { return w.doing.empty() && w.plan; });
    CHECK(planned->study == work->study);
    room.carving.take_over();
    REQUIRE(room.workbench.history()->sessions[0].plan);
    CHECK(room.workbench.history()->sessions[0].plan->wood_g == Approx(planned->plan->plan.wood_g));
    room.carving.take_over();                                   // once is enough: nothing new
    CHECK(inputs_of(*room.workbench.history(), 0) == work->of); // a plan changes no model
    plan.request.wishes = {{9, 600.0}};
    room.carving.execute(plan);
    const auto refused =
        room.seen([](const PlateWork& w) { return w.doing.empty() && !w.plan_trouble.empty(); });
    CHECK(refused->plan_trouble.find("Mode 9") != std::string::npos);
    CHECK_FALSE(refused->plan);
}

TEST_CASE("work that is called off ends soon, and another plate forgets it") {
    Room room;
    room.keep_map();
    room.carving.execute(command::StudyPlate{});
    room.seen([](const PlateWork& w) { return !w.doing.empty(); });
    room.carving.stop();
    CHECK(room.carving.view()->doing.empty());
    room.carving.forget();
    CHECK_FALSE(room.carving.view());
}

TEST_CASE("with a goal and a map the model is asked by itself, and the decision knows the place") {
    Room room;
    room.tap_and_aim();
    INFO(trends::sentence_of(room.decision()) << " " << trends::reason_of(room.decision()));
    CHECK(room.decision().advice == trends::Advice::take);
    room.carving.look_ahead(); // there is no map: nothing to ask
    CHECK_FALSE(room.carving.view());
    room.keep_map();
    CHECK_FALSE(room.decision().by_model);
    room.carving.look_ahead();
    const auto first = room.seen([](const PlateWork& w) { return w.doing.empty() && w.next; });
    room.carving.take_over();
    REQUIRE(room.decision().by_model);
    CHECK_FALSE(room.decision().where.empty());
    CHECK(room.workbench.history()->sessions[0].plan == std::nullopt); // nobody asked for a plan
    room.carving.look_ahead();                                         // known already
    CHECK(room.carving.view() == first);

    // A corrected mass makes another plate of it: its word goes, and is asked for anew.
    ledger::SessionRecord session = room.workbench.history()->sessions[0].session;
    *session.mass_g -= 1.0;
    room.workbench.save_session(session);
    room.workbench.reload();
    CHECK_FALSE(room.decision().by_model);
    room.carving.look_ahead();
    room.seen(
        [&](const PlateWork& w) { return w.doing.empty() && w.next && w.next != first->next; });
    room.carving.take_over();
    CHECK(room.decision().by_model);

    // Another goal needs another pass, and no other model.
    const auto study = room.carving.view()->study;
    room.store.set_target(room.workbench.plate(), 5, room.decision().goal_hz + 2.0);
    room.workbench.reload();
    CHECK_FALSE(room.decision().by_model);
    const auto before = room.carving.view()->next;
    room.carving.look_ahead();
    const auto anew = [](const std::shared_ptr<const trends::NextPass>& than) {
        return [&than](const PlateWork& w) { return w.doing.empty() && w.next && w.next != than; };
    };
    CHECK(room.seen(anew(before))->study == study);
    room.carving.take_over();
    CHECK(room.decision().by_model);

    // One that the least thickness keeps out of reach is said to be so, before grams are named.
    const double now_hz = room.decision().now_hz;
    command::SetTargets far;
    far.targets = {{5, 0.83 * now_hz}};
    room.carving.execute(far);
    REQUIRE(room.workbench.history()->targets == far.targets);
    CHECK(trends::is_of_wood(room.decision().advice));
    const auto reachable = room.carving.view()->next;
    room.carving.look_ahead();
    room.seen(anew(reachable));
    room.carving.take_over();
    INFO(trends::reason_of(room.decision()));
    CHECK(room.decision().advice == trends::Advice::other_goal);
    CHECK(room.decision().lowest_hz > far.targets[0].frequency_hz);
    CHECK(room.decision().lowest_hz < now_hz);
    room.carving.look_ahead(); // which asks no more
    CHECK(room.decision().advice == trends::Advice::other_goal);
    room.carving.execute(command::SetTargets{});
    CHECK(room.decision().advice == trends::Advice::set_goal);
}

TEST_CASE("the pass that the bench names is kept with its session when the session is left") {
    Room room;
    room.tap_and_aim();
    room.keep_map();
    const ledger::Id session = room.workbench.session();
    const auto kept = [&] { return room.store.history(room.workbench.plate())->sessions[0].plan; };
    room.carving.keep_named_pass(); // without the model's word there is no place to keep
    CHECK_FALSE(kept());
    room.carving.look_ahead();
    room.seen([](const PlateWork& w) { return w.doing.empty() && w.next; });
    room.carving.take_over();
    REQUIRE(room.decision().advice == trends::Advice::take);
    REQUIRE(room.decision().by_model);
    const double named_g = room.decision().take_g;
    const ledger::PlanRecord shown = room.carving.view()->next->plan->record;
    REQUIRE(named_g > 0.3);
    REQUIRE(named_g < shown.wood_g);
    room.carving.keep_named_pass();
    REQUIRE(kept());
    CHECK(kept()->session == session);
    CHECK(kept()->pass_share * kept()->wood_g == Approx(named_g));
    CHECK(kept()->strokes == shown.strokes);
    const plate::PlanOutcome &ring = kept()->modes.back(), &of_plan = shown.modes.back();
    CHECK((ring.pass_hz - ring.now_hz) / named_g ==
          Approx((of_plan.pass_hz - of_plan.now_hz) / (shown.pass_share * shown.wood_g)));
    CHECK(ring.pass_sd_hz / named_g ==
          Approx(of_plan.pass_sd_hz / (shown.pass_share * shown.wood_g)));
    CHECK(room.workbench.history()->sessions[0].plan == kept());
    const ledger::Id row = kept()->id;
    room.carving.keep_named_pass();
    CHECK(kept()->id == row);

    // What was named is not looked for anew, and the next session's model knows of it.
    const auto before = room.carving.view();
    room.carving.look_ahead();
    CHECK(room.carving.view() == before);
    room.workbench.begin_session({.plate = room.workbench.plate()});
    CHECK(inputs_of(*room.workbench.history(), 1).history.sessions[0].plan == kept());
}

TEST_CASE("whichever way a session is left, the engine keeps the pass that it named") {
    TemporaryFolder copy;
    ledger::Id plate = 0, other = 0;
    {
        Room room;
        room.tap_and_aim();
        room.keep_map();
        plate = room.workbench.plate();
        other = room.store.add(ledger::PlateRecord{
            .instrument = room.workbench.history()->instrument.id, .label = "Story top"});
        std::filesystem::copy(room.folder.path() / "ledger", copy.path() / "begun",
                              std::filesystem::copy_options::recursive);
    }
    const auto leaves = [&](const char* name, const std::optional<Command>& way) {
        const auto folder = copy.path() / name;
        std::filesystem::copy(copy.path() / "begun", folder,
                              std::filesystem::copy_options::recursive);
        double named_g = 0.0;
        {
            Engine engine({.ledger_folder = folder, .listen_at_once = false});
            engine.send(command::OpenPlate{plate});
            const auto named = test::shown_in_time(
                engine, [](const Snapshot& s) { return s.plate && s.plate->decision.by_model; });
            REQUIRE(named->plate);
            REQUIRE(named->plate->decision.advice == trends::Advice::take);
            named_g = named->plate->decision.take_g;
            if (way) {
                const auto executed = named->executed;
                engine.send(*way);
                test::comes_true([&] { return engine.snapshot()->executed > executed; });
            }
        }
        const ledger::Store store(folder, ledger::Access::read_only);
        const auto plan = store.history(plate)->sessions[0].plan;
        INFO(name);
        REQUIRE(plan);
        CHECK(plan->pass_share * plan->wood_g == Approx(named_g));
    };
    leaves("window closed", {});
    leaves("next session", command::BeginSession{});
    leaves("other plate", command::OpenPlate{other});
}

TEST_CASE("a plan asked for while the model is asked for the next pass keeps neither from coming") {
    Room room;
    room.tap_and_aim();
    room.keep_map();
    room.carving.look_ahead();
    const auto first =
        room.seen([](const PlateWork& w) { return w.doing.empty() && w.next; })->next;
    room.carving.take_over();
    const double goal_hz = room.decision().goal_hz + 2.0;
    room.carving.execute(command::SetTargets{{{5, goal_hz}}});
    command::MakePlan plan;
    plan.request.limits = trends::usual_limits(modes::InstrumentKind::violin);
    plan.request.wishes = {{5, goal_hz}};
    room.carving.look_ahead();
    room.carving.execute(plan); // at once, as by a maker who keeps a goal and asks for its plan
    const auto both = room.seen(
        [&](const PlateWork& w) { return w.doing.empty() && w.plan && w.next && w.next != first; });
    CHECK(both->next->foresight.goals == std::vector<trends::Goal>{{5, goal_hz}});
    room.carving.take_over();
    room.carving.look_ahead();
    CHECK(room.decision().by_model);
}
