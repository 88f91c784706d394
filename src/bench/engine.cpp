#include "bench/engine.hpp"

#include <chrono>
#include <condition_variable>
#include <deque>
#include <mutex>
#include <thread>

#include "base/failure.hpp"
#include "bench/carving.hpp"
#include "bench/daily_copy.hpp"
#include "bench/ear.hpp"
#include "bench/guide.hpp"
#include "bench/settings.hpp"
#include "bench/voice.hpp"
#include "bench/workbench.hpp"
#include "wording/say.hpp"

namespace platewright::bench {
namespace {

using namespace std::chrono_literals;
using wording::say;

constexpr std::size_t k_notices = 20;
constexpr double k_room_s = 3.0; // of quiet, for what is said of the room

template <class... F> struct Overloaded : F... { using F::operator()...; };

} // namespace

struct Engine::State {
    explicit State(EngineParams p)
        : params(std::move(p)), store(params.ledger_folder),
          fit{.low_hz = params.low_hz, .high_hz = params.high_hz}, workbench(store, fit) {}

    EngineParams params;
    ledger::Store store;
    modes::FitParams fit;
    Workbench workbench;

    // Shared with other threads.
    mutable std::mutex door;
    std::condition_variable knocked;
    std::deque<Command> commands;
    bool carving_moved = false; ///< what is computed aside has something new
    std::shared_ptr<const Snapshot> published;

    // The engine thread's own.
    Snapshot now;
    Ear ear{params.replay, fit};
    Voice voice{ear};
    Habits habits;
    std::vector<ledger::Id> taken_back; ///< of the open session, newest last
    DailyCopy copy;
    Carving carving{store, workbench, [this] {
                        {
                            const std::lock_guard lock(door);
                            carving_moved = true;
                        }
                        knocked.notify_all();
                    }};

    std::jthread thread; // last: it uses all of the above

    void start() {
        now.ledger_folder = store.folder().string();
        now.ledger_read_only = store.read_only();
        if (store.read_only())
            notice(say("The ledger can be read here, but nothing is kept: {}.", store.why_read_only()), true);
        now.chosen = remembered_input(store);
        list_ledger();
        if (const auto plate = remembered_plate(store))
            workbench.open_plate(*plate);
        ear.want(params.listen_at_once);
        publish();
        thread = std::jthread([this](const std::stop_token& stop) { run(stop); });
    }

    void run(const std::stop_token& stop) {
        guarded([&] { refresh_inputs(); });
        if (!store.read_only())
            copy.begin(store.folder());
        while (!stop.stop_requested()) {
            hear_of_copy();
            hear_of_carving();
            for (const Command& command : take_commands(stop))
                guarded([&] { obey(command); });
            if (ear.try_open(now.chosen))
                publish();
            if (ear.hears())
                listen();
            if (voice.has_ended()) {
                now.playing = 0;
                publish();
            }
        }
    }

    void hear_of_copy() {
        if (auto trouble = copy.trouble()) {
            notice(std::move(*trouble), true);
            publish();
        }
    }

    void hear_of_carving() {
        {
            const std::lock_guard lock(door);
            if (!std::exchange(carving_moved, false))
                return;
        }
        guarded([&] { carving.take_over(); });
    }

    /// What fails becomes a notice; the bench goes on.
    template <class Act> void guarded(const Act& act) {
        try {
            act();
        } catch (const base::Failure& failure) {
            notice(failure.what(), true);
        } catch (const std::exception& error) {
            notice(say("Something went wrong that should not have; what was kept is safe: {}", error.what()), true);
        }
        publish();
    }

    std::deque<Command> take_commands(const std::stop_token& stop) {
        std::unique_lock lock(door);
        if (!ear.hears()) // nothing to hear: wait for a command, or for the next attempt
            knocked.wait_for(lock, 200ms, [&] { return !commands.empty() || carving_moved || stop.stop_requested(); });
        return std::exchange(commands, {});
    }

    void notice(std::string text, bool grave) {
        if (!now.notices.empty() && now.notices.back().text == text)
            return;
        const std::int64_t number = now.notices.empty() ? 1 : now.notices.back().number + 1;
        now.notices.push_back({number, grave, std::move(text)});
        if (now.notices.size() > k_notices)
            now.notices.erase(now.notices.begin());
    }

    void publish() {
        now.revision += 1;
        now.taps_to_put_back = static_cast<int>(taken_back.size());
        now.plate = workbench.view();
        now.work = carving.view();
        publish_as_is();
    }
    void publish_as_is() {
        now.input = ear.status();
        auto next = std::make_shared<const Snapshot>(now);
        {
            const std::lock_guard lock(door);
            published.swap(next);
        }
        if (params.woken)
            params.woken();
    }

    void list_ledger() {
        now.instruments = std::make_shared<const std::vector<ledger::InstrumentSummary>>(store.overview());
        now.references = store.references();
    }

    // --- listening

    void listen() {
        Ear::Heard heard = ear.listen();
        if (heard.first_reading) {
            heard.first_reading->tap.spot = now.striking_at;
            show_reading(*heard.first_reading, workbench.picture_of(heard.first_reading->tap));
        }
        take_all(heard.taps);
        if (!heard.room.empty()) {
            now.room = room_report(heard.room, ear.status().sample_rate_hz);
            now.hearing_room = false;
        }
        if (heard.status_changed || !heard.room.empty())
            publish();
    }

    void take_all(const std::vector<HeardTap>& taps) {
        for (const HeardTap& tap : taps)
            guarded([&] { take(tap); });
    }

    /// A tap's own figures before it is kept; marked as ringing, for they may still move, and nothing is
    /// shown as accepted that is not on disk.
    void show_reading(const HeardTap& heard, const modes::Spectrum& picture) {
        now.tap = TapView{workbench.record_of(heard), true};
        now.revision += 1;
        now.plate = workbench.view_with(now.tap->record, picture);
        publish_as_is();
    }

    void take(HeardTap heard) {
        heard.tap.spot = now.striking_at;
        std::optional<modes::Spectrum> picture;
        if (heard.tap.verdict == taps::Verdict::accepted) {
            picture = workbench.picture_of(heard.tap);
            show_reading(heard, *picture);
        }
        const ledger::TapRecord record = workbench.keep(heard, std::move(picture));
        now.tap = TapView{record, false};
        if (record.id != 0 && record.verdict == taps::Verdict::accepted)
            keep_count(), workbench.settle();
        else if (record.verdict == taps::Verdict::accepted && !store.read_only())
            notice(why_not_kept(), false);
        if (habits.answers_aloud)
            voice.answer(record.verdict == taps::Verdict::accepted);
    }

    /// One more good tap; where there are enough, the next spot is struck.
    void keep_count() {
        taken_back.clear();
        if (++now.good_taps_here >= habits.taps_a_spot && habits.taps_a_spot > 0 &&
            now.striking_at != taps::Spot::unknown)
            strike_at(next_sought(now.striking_at));
    }
    void strike_at(taps::Spot spot) {
        now.striking_at = spot;
        now.good_taps_here = 0;
    }

    std::string why_not_kept() const {
        if (workbench.plate() == 0)
            return std::string(say("Not kept: make or open a plate first."));
        if (workbench.session() == 0)
            return std::string(say("Not kept: begin a session first (N)."));
        return std::string(say("Not kept: this session is from another day. N begins today's; under Plates it can "
                               "be taken up again."));
    }

    // --- commands

    void refresh_inputs() { now.inputs = ear.inputs(); }

    void changed(std::string_view table = {}) {
        list_ledger();
        workbench.reload();
        if (table == "tap")
            workbench.settle();
    }

    /// Another session, or none: what was of the one before is put down.
    void put_down() {
        now.tap.reset();
        now.study.reset();
        taken_back.clear();
        strike_at(taps::Spot::unknown);
    }

    void open_plate(ledger::Id plate) {
        carving.forget();
        workbench.open_plate(plate);
        put_down();
        if (!store.read_only())
            remember_plate(store, plate);
    }

    void obey(const Command& command) {
        std::visit(
            Overloaded{
                [&](const command::SaveInstrument& c) { save_instrument(c.instrument); },
                [&](const command::SavePlate& c) { save_plate(c.plate); },
                [&](const command::OpenPlate& c) { open_plate(c.plate); },
                [&](const command::BeginSession& c) { begin_session(c.session); },
                [&](const command::SaveSession& c) { workbench.save_session(c.session), changed(); },
                [&](const command::OpenSession& c) { workbench.open_session(c.session), put_down(); },
                [&](const command::Bin& c) { store.bin(c.table, c.id), changed(c.table); },
                [&](const command::Unbin& c) { store.unbin(c.table, c.id), changed(c.table); },
                [&](const command::UndoTap&) { undo_tap(); },
                [&](const command::StrikeAt& c) { strike_at(c.spot); },
                [&](const command::RedoTap&) { redo_tap(); },
                [&](const command::PlayTap& c) { play_tap(c.tap); },
                [&](const command::StudyTap& c) { study_tap(c.tap); },
                [&](const command::HearRoom&) { ear.collect_room(k_room_s), now.hearing_room = ear.hears(); },
                [&](const command::SetHabits& c) { habits = c.habits; },
                [&](const command::NameMode& c) { workbench.name_mode(c.frequency_hz, c.number); },
                [&](const command::AddReference& c) { store.add_reference(c.session, c.label), list_ledger(); },
                [&](const command::RemoveReference& c) { store.remove_reference(c.reference), list_ledger(); },
                [&](const command::CompareWith& c) { workbench.compare_with(c.session); },
                [&](const command::ChooseInput& c) { choose_input(c.choice); },
                [&](const command::Listen& c) { set_listening(c.on); },
                [&](const command::RefreshInputs&) { refresh_inputs(); },
                [&](const command::SayAgain&) { changed(); },
                [&](const auto& c) { carving.obey(c); },
            },
            command);
    }

    void save_instrument(const ledger::InstrumentRecord& instrument) {
        if (instrument.id == 0)
            store.add(instrument);
        else
            store.update(instrument);
        changed();
    }

    void save_plate(const ledger::PlateRecord& plate) {
        const ledger::Id id = plate.id == 0 ? store.add(plate) : (store.update(plate), plate.id);
        list_ledger();
        if (plate.id == 0)
            open_plate(id);
        else
            workbench.reload();
    }

    void begin_session(ledger::SessionRecord session) {
        if (session.plate == 0)
            session.plate = workbench.plate();
        if (session.plate == 0)
            throw base::Failure(std::string(say("No plate is open: make or open one before its session.")));
        if (workbench.open_session_is_empty())
            return notice(std::string(say("The session shown has no taps yet: it goes on.")), false);
        put_down();
        workbench.begin_session(session);
        list_ledger();
    }

    void undo_tap() {
        if (const ledger::Id undone = workbench.undo_tap(); undone != 0)
            taken_back.push_back(undone);
        else
            notice(std::string(say("There is no tap to take back in this session.")), false);
        now.tap.reset();
    }

    void redo_tap() {
        if (taken_back.empty())
            return notice(std::string(say("No tap was taken back in this session.")), false);
        store.unbin("tap", taken_back.back());
        taken_back.pop_back();
        changed("tap");
    }

    void play_tap(ledger::Id tap) {
        voice.hush();
        now.playing = 0;
        if (const auto kept = workbench.tap_with_sound(tap)) {
            voice.play(kept->second);
            now.playing = tap;
        }
    }

    void study_tap(ledger::Id tap) {
        now.study.reset();
        if (const auto kept = workbench.tap_with_sound(tap)) {
            auto study = std::make_shared<TapStudy>(study_of(kept->second, kept->first.partials, params.high_hz));
            study->tap = tap;
            study->session = kept->first.session;
            now.study = std::move(study);
        }
    }

    void choose_input(const audio::InputChoice& choice) {
        now.chosen = choice;
        if (!store.read_only())
            remember_input(store, choice);
        take_all(ear.close());
        ear.want(true);
    }

    void set_listening(bool on) {
        ear.want(on);
        if (!on)
            take_all(ear.close());
    }
};

Engine::Engine(EngineParams params) : state_(std::make_unique<State>(std::move(params))) { state_->start(); }

Engine::~Engine() {
    state_->thread.request_stop();
    state_->knocked.notify_all();
}

void Engine::send(Command command) {
    {
        const std::lock_guard lock(state_->door);
        state_->commands.push_back(std::move(command));
    }
    state_->knocked.notify_all();
}

std::shared_ptr<const Snapshot> Engine::snapshot() const {
    const std::lock_guard lock(state_->door);
    return state_->published;
}

} // namespace platewright::bench
