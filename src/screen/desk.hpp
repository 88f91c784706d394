#pragma once
#include "screen/bench/bench_view.hpp"
#include "screen/carve/carving_view.hpp"
#include "screen/files/files_view.hpp"
#include "screen/help/guide_view.hpp"
#include "screen/help/walk.hpp"
#include "screen/notice_strip.hpp"
#include "screen/plates/beside_view.hpp"
#include "screen/plates/drift_view.hpp"
#include "screen/plates/plates_view.hpp"
#include "screen/plates/session_view.hpp"
#include "screen/settings/settings_view.hpp"
#include "screen/settings/sound_view.hpp"
#include "screen/wood/wood_view.hpp"

#include <cstdint>
#include <functional>

namespace platewright::screen {

/// The window's inside: a rail to the places, the plate's name, one view, a notice, the input's
/// status. Draws one picture of a snapshot into the present Dear ImGui frame, filling it.
/// Threads: the screen's. Cost: a frame.
class Desk {
public:
    explicit Desk(std::function<void(bench::Command)> send, Outside outside = {})
        : send_([this, send = std::move(send)](bench::Command command) {
              ++sent_;
              send(std::move(command));
          }),
          outside_(std::move(outside)) {}

    Desk(const Desk&) = delete; // what it sends is counted here
    Desk& operator=(const Desk&) = delete;

    /// Gives how many pictures are wanted after this one even if nothing happens.
    int draw(const bench::Snapshot& now, const Look& look, Keys& keys);

    const Preferences& preferences() const { return preferences_; }
    void wish(const Preferences& preferences) { preferences_ = preferences; }
    Place place() const { return place_; }
    void start(FirstWalk walk) { walk_.start(walk); }
    /// After so long another picture is wanted though nothing happens; endless: none.
    double wake_in_s() const { return wake_in_s_; }

private:
    void keep_language();
    void keep_habits();
    void keep_ear(const bench::Snapshot& now);
    void global_keys(Keys& keys);
    void stacked_view(const ViewContext& context, const plot::Box& box);
    void view(const ViewContext& context, const plot::Box& box);
    void bench_and_drift(const ViewContext& context, plot::Box box);
    void begin_walk(const ViewContext& context);

    std::uint64_t sent_ = 0; // commands
    std::function<void(bench::Command)> send_;
    Outside outside_;
    std::optional<bench::Habits> habits_; // as the bench was told them last
    ledger::Id session_shown_ = 0, closed_session_ = 0;
    double wake_in_s_ = 0.0;
    Preferences preferences_;
    Place place_ = Place::bench;
    BenchView bench_;
    DriftView drift_;
    SessionView session_;
    BesideView beside_;
    CarvingView carving_;
    WoodView wood_;
    PlatesView plates_;
    SoundView sound_;
    SettingsView settings_;
    FilesView files_;
    GuideView guide_;
    Walk walk_;
    NoticeStrip notice_;
};

} // namespace platewright::screen
