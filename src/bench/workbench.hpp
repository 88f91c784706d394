#pragma once
#include "bench/snapshot.hpp"
#include "bench/sound/listening.hpp"
#include "ledger/store.hpp"
#include "trends/model/plan_request.hpp"

#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace platewright::bench {

struct Corrected;

/// The plate on the bench and its open session: keeps what is heard, computes what is shown. One
/// per Engine, and one per `enter` of the command line. Fails: base::Failure from the ledger; what
/// was acknowledged stays. Threads: one owner.
class Workbench {
public:
    Workbench(ledger::Store& store, const modes::FitParams& fit);

    /// The band whose pictures are made, and whose partials are pooled.
    void look_in(const modes::FitParams& fit);
    void open_plate(ledger::Id plate); ///< 0 clears the bench
    void open_session(ledger::Id session);
    /// Both throw base::Failure where the mass can't be (trends::fault_in_mass); nothing is stored
    /// then.
    ledger::Id begin_session(ledger::SessionRecord session);
    void save_session(const ledger::SessionRecord& session);
    /// Modes and names as they would be had what was corrected been entered so; reload() after it.
    void heal(const Corrected& corrected);
    /// Reads the open plate again after something in the ledger changed.
    void reload();
    void compare_with(ledger::Id session); ///< 0: nothing
    /// Sets what is compared over to one air; nothing: as measured.
    void set_air(std::optional<trends::Air> air);
    const std::optional<trends::Air>& air() const { return air_; }

    /// The model's word on the next pass; decisions rest on it until something but a tap is
    /// entered or another session opened.
    void foresee(std::shared_ptr<const trends::NextPass> next);
    bool foresees() const { return next_ != nullptr; }

    /// Keeps a tap of the open session, durable on return, and gives its record. Without a session
    /// that takes taps, or on a read-only ledger, the record has id 0: shown, not kept. A picture
    /// is made where it has none.
    ledger::TapRecord keep(HeardTap heard);
    /// The verdict on a tap by those of the open session that count, before it is kept: a doubtful
    /// one that is of the plate counts; one that counts is `weighed` where it rings with the mass
    /// that is being weighed with, a stranger where it rings like none of them, struck twice where
    /// it holds a second contact. Without a session that takes taps the mass alone is asked for.
    /// Gives whether it counted by itself, or by the maker's word for those that hardly rang.
    bool judge(HeardTap& heard, bool takes_doubtful = false) const;
    /// A mass will lie on the plate (trends/model/weighed_taps.hpp): from now on a tap that rings
    /// with it is kept as weighed. Throws base::Failure where trends::fault_in has one, or no
    /// session takes taps; nothing is stored then.
    ledger::Id begin_weighing(ledger::WeighingRecord weighing);
    /// No mass is expected any more. What was tapped with it stays; without such a tap it is put
    /// into the bin.
    void end_weighing();
    /// Accepts the open session's doubtful taps that those which count tell of now, and gives how
    /// many; settle() counts them. Only of taps heard since the session was opened.
    int recognise();
    /// Counts a stranger or a doubtful tap by the maker's word. Gives whether there was such a tap.
    bool vouch_for(ledger::Id tap);
    /// The spectrum of a tap's ring.
    modes::Spectrum picture_of(const taps::Tap& tap) const;
    /// A tap's record without keeping it.
    ledger::TapRecord record_of(const HeardTap& heard) const;
    /// Modes, names, trends anew after taps came or went; keeps the session's modes.
    void settle();
    /// Bins the open session's newest tap and gives its id; 0 where there is none, or the session
    /// takes no taps.
    ledger::Id undo_tap();
    /// What there is to say, once, of recordings of the open plate that could not be read: their
    /// taps count with the figures that are kept.
    std::optional<std::string> take_trouble();
    /// A tap of the open plate, of whichever session, with its sound; nothing where it is none or
    /// has none.
    std::optional<std::pair<ledger::TapRecord, taps::Tap>> tap_with_sound(ledger::Id tap) const;
    /// What a model of the open plate expects at its spots; from the next naming on, until another
    /// plate is opened.
    void expect(std::vector<modes::SpotProfile> profiles);
    void name_mode(double frequency_hz, std::optional<int> number);

    /// What the hammer told of the tap kept last; nothing where none did.
    std::optional<modes::ForceVerdict> newest_force() const { return newest_force_; }

    ledger::Id plate() const;
    ledger::Id session() const { return session_; }
    /// Whether a tap heard now belongs into the open session: it was begun, or chosen, at this
    /// bench, or has no taps yet. One from another day shows what was, until the maker takes it up
    /// again.
    bool takes_taps() const;
    /// A session is open that has no taps: another one would only be in the way.
    bool open_session_is_empty() const;
    /// All that is kept of the open plate; null while none is open. Until the next call that
    /// changes it.
    const ledger::PlateHistory* history() const { return history_ ? &*history_ : nullptr; }
    /// What is shown of the plate; null while none is open.
    std::shared_ptr<const PlateView> view() const { return view_; }
    /// The same with the spectrum of a tap that is not kept yet.
    std::shared_ptr<const PlateView> view_with(const modes::Spectrum& picture) const;

private:
    ledger::SessionHistory* open_history();
    const ledger::SessionHistory* open_history() const;
    void load_taps();
    void add_anew();
    /// Hardly any of its strong partials lies where one of the open session's does (never with
    /// fewer than two of them); or it rings longer than wood can.
    bool is_stranger(const HeardTap& heard) const;
    bool bears_mass(const HeardTap& heard) const; ///< that is being weighed with
    const ledger::WeighingRecord* weighing() const;
    std::optional<SpectrumView> last_picture() const;
    modes::Spectrum mean_picture(); ///< of the open session's accepted taps
    /// The sound of a kept accepted tap; nothing where none was kept or it is lost.
    std::optional<taps::Tap> sound_of(const ledger::TapRecord& record,
                                      ledger::HammerForce* force = nullptr);
    trends::Comparison comparison(const PlateView& view) const;
    void publish();
    void report(PlateView& view) const;
    const SpectrumView& mean_of(const ledger::SessionHistory& session, const std::string& label);
    void check_mass(const ledger::SessionRecord& session) const;
    void name_anew(ledger::Id plate);
    bool name_anew(ledger::PlateHistory& history);
    bool name_later_sessions();
    void follow(const Corrected& corrected);
    modes::FitParams in_band_of(const ledger::PlateHistory& history) const;
    void read_in_other_band(const std::vector<ledger::Id>& sessions);
    void find_anew(ledger::Id plate, ledger::Id session);

    ledger::Store& store_;
    modes::FitParams fit_;
    std::optional<ledger::PlateHistory> history_;
    std::optional<ledger::SessionHistory> compared_;
    std::optional<trends::Air> air_; ///< what is compared is set over to it
    std::string compared_label_;
    std::optional<ledger::ReferenceRecord> reference_;
    ledger::Id session_ = 0;
    ledger::Id weighing_ = 0;    ///< of the open session, at hand or just done
    bool taken_up_ = false;      ///< the open session, by the maker, at this bench
    std::vector<HeardTap> taps_; ///< of the open session, as its history lists them
    modes::RunningMean mean_;    ///< of the first `in_mean_` of them
    std::size_t in_mean_ = 0;
    std::set<ledger::Id> lost_,
        told_lost_; ///< taps of the open plate whose recording can't be read
    Forced forced_; ///< of the same taps
    std::optional<modes::ForceVerdict> newest_force_;
    modes::Naming naming_;
    modes::Pooled pooled_;
    std::vector<modes::SpotProfile> profiles_;
    std::map<ledger::Id, SpectrumView> means_; ///< of other sessions, computed once
    std::optional<Partner> partner_;
    std::shared_ptr<const trends::NextPass> next_; ///< foreseen; null: nothing is
    std::shared_ptr<const PlateView> view_;
};

} // namespace platewright::bench
