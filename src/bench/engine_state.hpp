#pragma once
#include "base/failure.hpp"
#include "bench/copies.hpp"
#include "bench/engine.hpp"
#include "bench/model/carving.hpp"
#include "bench/session/correct.hpp"
#include "bench/session/fresh_session.hpp"
#include "bench/session/guide.hpp"
#include "bench/session/undo.hpp"
#include "bench/settings.hpp"
#include "bench/sound/live_input.hpp"
#include "bench/sound/voice.hpp"
#include "bench/wood/stock.hpp"
#include "bench/workbench.hpp"
#include "speech/speaker.hpp"
#include "wording/failing.hpp"
#include "wording/say.hpp"

#include <chrono>
#include <condition_variable>
#include <deque>
#include <mutex>
#include <thread>

namespace platewright::bench {

/// All that the engine's thread works on. engine.cpp listens and publishes, engine_commands.cpp
/// executes.
struct Engine::State {
    explicit State(EngineParams p)
        : params(std::move(p)), store(params.ledger_folder), workbench(store, fit) {}

    EngineParams params;
    ledger::Store store;
    modes::FitParams fit;
    Workbench workbench;

    // Shared with other threads.
    mutable std::mutex door;
    std::condition_variable knocked;
    std::deque<Command> commands;
    bool aside_moved = false; ///< what is computed aside has something new
    std::shared_ptr<const Snapshot> published;

    static constexpr std::size_t k_most_notices = 20;

    // The engine thread's own.
    Snapshot now;
    LiveInput live_input{params.replay, fit};
    Voice voice{live_input};
    Habits habits;
    bool knows_habits = false; ///< the window has told its own
    speech::Speaker speaker;
    ledger::Id said_of = 0; ///< the session whose figures were
    std::optional<std::chrono::steady_clock::time_point>
        tapped;                                        ///< last, and not followed by a pause yet
    std::chrono::steady_clock::time_point last_good{}; ///< tap's end
    static constexpr std::chrono::seconds k_before_looking_ahead{2};
    int last_strike = -1;               ///< of the recorded ones
    std::vector<ledger::Id> taken_back; ///< of the open session, newest last
    std::vector<Undo> undos;            ///< what was done since the program began, newest last
    static constexpr std::size_t k_most_undos = 100;
    /// The tap that has had a first reading and still rings: its spectrum, and the plate's view
    /// with it.
    struct Ringing {
        modes::Spectrum picture;
        std::shared_ptr<const PlateView> of, shown;
    };
    std::optional<Ringing> ringing;
    Copies copies{params.ledger_folder};
    Carving carving{store, workbench, [this] { hear_from_aside(); }};
    Stock stock{store, workbench, [this] { hear_from_aside(); }};
    Errands errands{params.ledger_folder, [this] { hear_from_aside(); }};

    std::jthread thread; // last: it uses all of the above

    void start() {
        now.ledger_folder = store.folder().string();
        now.ledger_read_only = store.read_only();
        if (store.read_only())
            notice(wording::say("The ledger can be read here, but nothing is kept: {}.",
                                store.why_read_only()),
                   true);
        pass_on_notices();
        now.chosen = remembered_input(store);
        now.chosen_band = params.band == modes::BandChoice{} ? remembered_band(store) : params.band;
        now.air = remembered_air(store);
        if (!params.recorded.strikes.empty())
            now.recorded = RecordedView{params.recorded.plate, params.recorded.mass_g, false};
        list_ledger();
        follow_band(); // before any sound is read and pictured
        if (const auto plate = remembered_plate(store))
            workbench.open_plate(*plate);
        live_input.want(params.listen_at_once);
        publish();
        thread = std::jthread([this](const std::stop_token& stop) { run(stop); });
    }

    void run(const std::stop_token& stop) {
        guarded([&] { refresh_inputs(); });
        while (!stop.stop_requested()) {
            tend_copies();
            take_from_aside();
            for (const Command& command : take_commands(stop))
                take_up(command);
            follow_band();
            if (live_input.try_open(now.chosen))
                publish();
            if (live_input.hears())
                listen();
            if (voice.has_ended()) {
                now.playing = 0;
                publish();
            }
            tend_speech();
            look_ahead();
        }
        // What was asked just before the window closed is done: a mass typed last would be lost.
        for (const Command& command : take_commands(stop))
            take_up(command);
        keep_named_pass();
        if (!store.read_only())
            copies.close();
    }

    void take_up(const Command& command) {
        ++now.executed;
        guarded([&] { execute(command); });
    }

    void tend_copies() {
        if (!store.read_only())
            copies.tend();
        if (auto trouble = copies.trouble()) {
            notice(std::move(*trouble), true);
            publish();
        }
    }

    /// In a pause, so that no tap waits for it.
    void look_ahead() {
        if (!ringing && std::chrono::steady_clock::now() - last_good > k_before_looking_ahead)
            carving.look_ahead();
    }

    /// From any thread.
    void hear_from_aside() {
        {
            const std::lock_guard lock(door);
            aside_moved = true;
        }
        knocked.notify_all();
    }
    void take_from_aside() {
        {
            const std::lock_guard lock(door);
            if (!std::exchange(aside_moved, false))
                return;
        }
        guarded([&] { carving.take_over(), stock.take_over(); });
    }

    /// What fails becomes a notice; the bench goes on.
    template <class Act>
    void guarded(const Act& act) {
        try {
            act();
        } catch (...) {
            notice(wording::sentence_for_failure(), true);
        }
        pass_on_notices();
        publish();
    }

    /// Before a session is left; that it could not be kept keeps nobody from going on.
    void keep_named_pass() {
        try {
            carving.keep_named_pass();
        } catch (...) {
            notice(wording::sentence_for_failure(), true);
        }
    }

    /// What became of the ledger on its disk.
    void pass_on_notices() {
        for (std::string& told : store.take_notices())
            notice(std::move(told), true);
    }

    std::deque<Command> take_commands(const std::stop_token& stop) {
        std::unique_lock lock(door);
        if (!live_input.hears()) // nothing to hear: wait for a command, or for the next attempt
            knocked.wait_for(lock, std::chrono::milliseconds(200), [&] {
                return !commands.empty() || aside_moved || stop.stop_requested();
            });
        return std::exchange(commands, {});
    }

    void notice(std::string text, bool grave) {
        const std::int64_t number = now.notices.empty() ? 1 : now.notices.back().number + 1;
        if (!now.notices.empty() && now.notices.back().text == text)
            now.notices.pop_back(); // once more: it is to be read again, though it was put away
        now.notices.push_back({number, grave, std::move(text)});
        if (now.notices.size() > k_most_notices)
            now.notices.erase(now.notices.begin());
    }

    /// The plate; while a tap rings, with that tap's spectrum. Made again only when the plate's
    /// view is.
    std::shared_ptr<const PlateView> plate_now() {
        const auto plate = workbench.view();
        if (!ringing)
            return plate;
        if (ringing->of != plate || !ringing->shown) {
            ringing->of = plate;
            ringing->shown = workbench.view_with(ringing->picture);
        }
        return ringing->shown;
    }

    void publish() {
        if (auto trouble = workbench.take_trouble())
            notice(std::move(*trouble), true);
        now.revision += 1;
        now.ledger_read_only = store.read_only();
        now.taps_to_put_back = static_cast<int>(taken_back.size());
        now.plate = plate_now();
        now.undoable = undos.empty() ? std::string() : undos.back().what;
        now.errand = errands.view();
        now.work = carving.view();
        now.stock = stock.view();
        publish_as_is();
    }
    void publish_as_is() {
        now.input = live_input.status();
        auto next = std::make_shared<const Snapshot>(now);
        {
            const std::lock_guard lock(door);
            published.swap(next);
        }
        if (params.woken)
            params.woken();
    }

    void list_ledger() {
        now.instruments =
            std::make_shared<const std::vector<ledger::InstrumentSummary>>(store.overview());
        now.references = store.references();
    }

    // --- listening (engine.cpp)

    void listen();
    void take_all(const std::vector<HeardTap>& taps);
    /// A tap's own figures before it is kept; marked as ringing, for they may still move, and
    /// nothing is shown as accepted that is not on disk.
    void show_reading(const HeardTap& heard);
    void take(HeardTap heard);
    /// Keeps an accepted tap where it belongs and says what became of it. What fails is thrown on;
    /// the tap is then shown as not kept.
    void keep(HeardTap heard);
    /// Whether a session was begun for a good tap, because what lay open was another day's, or
    /// nothing.
    bool begin_for_tap();
    TapView view_of(const HeardTap& heard) const;
    /// One more good tap; where there are enough, the next spot is struck.
    void keep_count();
    void strike_at(taps::Spot spot);
    taps::Spot spot_after(taps::Spot spot) const;

    // --- speaking (engine_speech.cpp)

    /// The open session's figures and the decision, aloud. While they are said nothing is a tap.
    void say_figures();
    /// The same by itself, once a session, when its taps are enough to decide by and a pause shows
    /// that the last was given: a voice in the midst of tapping would cost taps.
    void say_when_enough();
    void set_habits(const Habits& wanted);
    /// What is to be said by itself, and what has been said.
    void tend_speech();

    std::string why_not_kept() const; ///< of an accepted tap that no session takes

    // --- recorded strikes (engine_recorded.cpp)

    void hear_recorded(bool on);
    void strike_recorded();

    // --- commands (engine_commands.cpp)

    void refresh_inputs();
    void changed(std::string_view table = {});
    /// The same after a correction, with all that rests on it.
    void heal(const Corrected& corrected);
    /// Another session, or none: what was of the one before is put down.
    void put_down();
    void open_plate(ledger::Id plate);
    void execute(const Command& command);
    void act(const Command& command);
    /// What was made last, of each kind; 0: none.
    struct Made {
        ledger::Id instrument = 0, plate = 0, session = 0;
    };
    Made newest() const;
    /// Remembers how the command just executed is taken back.
    void remember(Undo undo, const Made& before);
    void undo_last();
    /// Puts the plate and the session on the bench that an act was done on.
    void return_to(const Undo& undo);
    void undo_import();
    void run_errand(const Errand& errand);
    /// Whether the maker asks to leave off while the bench is at an errand; the word is then used
    /// up.
    bool is_called_off();
    void save_instrument(const ledger::InstrumentRecord& instrument);
    void save_plate(const ledger::PlateRecord& plate);
    void begin_session(ledger::SessionRecord session);
    void undo_tap();
    void count_tap(ledger::Id tap);
    void redo_tap();
    void play_tap(ledger::Id tap);
    void study_tap(ledger::Id tap);
    void choose_input(const audio::InputChoice& choice);
    void choose_band(const modes::BandChoice& band);
    /// Listens in the band of the open plate's kind and part, or in what was chosen.
    void follow_band();
    void set_air(const command::SetAir& c);
    void set_listening(bool on);

    // --- coming back from damage (engine_restore.cpp)

    void list_kept();
    void restore_copy(const std::string& name);
};

} // namespace platewright::bench
