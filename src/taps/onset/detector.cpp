#include "taps/onset/detector.hpp"

#include "base/level.hpp"
#include "base/loudest.hpp"
#include "taps/band.hpp"
#include "taps/judge/judge.hpp"
#include "taps/onset/leap.hpp"
#include "taps/onset/onset.hpp"
#include "taps/onset/rms.hpp"
#include "taps/onset/room_noise.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::taps {
namespace {

constexpr double k_weaker_db =
    6; // than a strike worth fitting, and still heard, to be called too weak
constexpr double k_crackle_db = 8;        // over the room, for 20 ms, is the least a strike has
constexpr double k_building_up_s = 0.012; // from its beginning a strike has leapt to its height
constexpr double k_other_leap_s = 0.004;  // later than this a leap has a beginning of its own
constexpr double k_lead_up_db =
    14; // under the strike: what a codec spreads ahead of it, no strike by itself
constexpr std::size_t k_hops_piece = 20; // one piece of the room's noise
constexpr double k_dwarfs_db = 8;   // over all before: what rang was only noise before this strike
constexpr double k_rung_out_db = 3; // above the room
constexpr double k_heard_out_db = 60; // below the strike: enough has been heard
constexpr std::size_t k_pieces_quiet = 3;

} // namespace

struct Detector::State {
    State(double rate, const DetectorParams& p)
        : params(p), rate_hz(rate), band(p.low_hz, p.high_hz, rate),
          hop(static_cast<std::size_t>(std::max(1.0, std::round(Leap::k_hop_s * rate)))),
          leap(p.low_hz) {}

    DetectorParams params;
    double rate_hz;
    Band band;
    std::size_t hop;
    Leap leap;

    // The sound still needed: the pre-roll and look-back while idle, the whole tap while it rings.
    std::vector<float> raw, in_band;
    std::int64_t first_frame = 0; // of raw[0]

    double hop_square = 0, piece_square = 0;
    std::size_t in_hop = 0, hops_in_piece = 0;
    RoomNoise room;

    bool is_ringing = false;
    bool is_refined = false;  // whether the onset is more than a rough one
    std::size_t onset = 0;    // index into raw
    std::size_t rough = 0;    // where the newest leap began that may still be the onset
    double room_dbfs = 0;     // at the onset
    double loudest_piece = 0; // mean square
    std::size_t quiet_pieces = 0;
    bool struck_again = false;

    std::size_t frames(double seconds) const {
        return static_cast<std::size_t>(std::max(0.0, std::round(seconds * rate_hz)));
    }
    std::size_t look_back() const { return frames(0.030); }

    Tap cut(std::size_t end) const {
        const std::size_t begin = onset - std::min(onset, frames(params.pre_roll_s));
        Tap tap;
        tap.sample_rate_hz = rate_hz;
        tap.onset_frame = first_frame + static_cast<std::int64_t>(onset);
        tap.onset_index = onset - begin;
        tap.samples.assign(raw.begin() + static_cast<std::ptrdiff_t>(begin),
                           raw.begin() + static_cast<std::ptrdiff_t>(end));
        const float peak =
            base::loudest(std::span<const float>{tap.samples}.subspan(tap.onset_index));
        tap.peak_dbfs = base::amplitude_to_db(static_cast<double>(peak));
        tap.noise_dbfs = room_dbfs;
        return tap;
    }

    Tap judged(std::size_t end, bool lost) const {
        Tap tap = cut(end);
        const std::size_t begin = onset - tap.onset_index;
        tap.verdict = judge({.tap = tap,
                             .in_band = std::span{in_band}.subspan(begin, end - begin),
                             .room_dbfs = room_dbfs,
                             .struck_again = struck_again,
                             .gap = lost},
                            params);
        return tap;
    }

    void end_tap(std::size_t end, bool lost, std::vector<Tap>& out) {
        Tap tap = judged(end, lost);
        is_ringing = false;
        // What already sounds when the stream begins need be no strike: only where it may be one is
        // it told. Nor is a single crackle, of which there are many where sound is coarsely
        // written down.
        const bool of_note = tap.verdict == Verdict::accepted ||
                             (tap.verdict == Verdict::clipped &&
                              loudest_dbfs(end) > room.level_dbfs() + params.rise_db);
        const bool crackle =
            tap.verdict == Verdict::too_weak && loudest_dbfs(end) < room_dbfs + k_crackle_db;
        if (of_note || !(begins_with_stream(tap) || crackle))
            out.push_back(std::move(tap));
    }

    /// Loudest 20 ms of the strike's first 60 ms.
    double loudest_dbfs(std::size_t end) const {
        const std::size_t piece = frames(0.020);
        double loudest = base::k_silence_db;
        for (std::size_t at = onset; at + piece <= std::min(end, onset + 3 * piece); at += piece)
            loudest = std::max(loudest, rms_dbfs(std::span{in_band}.subspan(at, piece)));
        return loudest;
    }

    void begin_tap(std::size_t at) {
        is_ringing = true;
        is_refined = false;
        onset = rough = at;
        room_dbfs = room.level_dbfs();
        loudest_piece = 0;
        quiet_pieces = 0;
        struck_again = false;
    }

    /// Still the same strike; or what sounded so far only went before it, and the onset is to be
    /// looked for anew.
    void build_up(std::size_t at) {
        if (at <= std::max(rough, onset) + frames(k_other_leap_s) ||
            leap.level_dbfs() <
                rms_dbfs(std::span{in_band}.subspan(onset, at - onset)) + k_lead_up_db)
            return;
        rough = at;
        is_refined = false;
    }

    /// Where this strike began; what the stream began with may be the room, and is none.
    std::size_t begun() const {
        const bool with_stream = first_frame + static_cast<std::int64_t>(onset) <
                                 static_cast<std::int64_t>(frames(k_begins_s));
        return with_stream ? rough : onset;
    }

    void refine() {
        const bool is_late = rough > begun() + frames(k_building_up_s);
        onset = refine_onset(raw, rough, rate_hz);
        is_refined = true;
        // What stands its ground so long before the leap was a contact of its own.
        struck_again = struck_again || (is_late && rough > onset + frames(k_building_up_s));
    }

    void on_leap(std::vector<Tap>& out) {
        const std::size_t here = in_band.size();
        const std::size_t from = here - std::min(here, look_back());
        const std::size_t at = from + pick_onset(std::span{in_band}.subspan(from));
        if (!is_ringing)
            return begin_tap(at);
        const bool dwarfs =
            leap.level_dbfs() > base::amplitude_to_db(std::sqrt(loudest_piece)) + k_dwarfs_db;
        if (at <= begun() + frames(k_building_up_s) ||
            (dwarfs && at <= onset + frames(k_refined_before_s)))
            return build_up(at);
        if (at < onset + frames(params.settle_s) && !dwarfs) {
            struck_again = true;
            return;
        }
        end_tap(at - std::min(at, frames(0.003)), false, out);
        begin_tap(at);
        forget(at);
    }

    void on_piece(double mean_square, std::vector<Tap>& out) {
        room.add(mean_square);
        if (!is_ringing)
            return trim();
        loudest_piece = std::max(loudest_piece, mean_square);
        const double level = base::amplitude_to_db(std::sqrt(mean_square));
        const double enough =
            std::max(room_dbfs + k_rung_out_db,
                     base::amplitude_to_db(std::sqrt(loudest_piece)) - k_heard_out_db);
        quiet_pieces = level < enough ? quiet_pieces + 1 : 0;
        const std::size_t length = raw.size() - onset;
        if ((quiet_pieces >= k_pieces_quiet && length >= frames(params.shortest_s)) ||
            length >= frames(params.longest_s)) {
            end_tap(std::min(raw.size(), onset + frames(params.longest_s)), false, out);
            trim();
        }
    }

    /// While idle only the pre-roll and the look-back are kept; dropped in large steps, so that
    /// each sample is moved rarely.
    void trim() {
        if (raw.size() > frames(params.pre_roll_s + 1.0) + look_back())
            forget(raw.size());
    }

    /// Drops what lies further before raw[here] than a pre-roll and the look-back.
    void forget(std::size_t here) {
        const std::size_t drop = here - std::min(here, frames(params.pre_roll_s) + look_back());
        raw.erase(raw.begin(), raw.begin() + static_cast<std::ptrdiff_t>(drop));
        in_band.erase(in_band.begin(), in_band.begin() + static_cast<std::ptrdiff_t>(drop));
        first_frame += static_cast<std::int64_t>(drop);
        onset -= std::min(onset, drop);
        rough -= std::min(rough, drop);
    }

    /// At most the rest of the running hop; a hop that is full is looked at.
    void push(std::span<const float> samples, std::vector<Tap>& out) {
        raw.insert(raw.end(), samples.begin(), samples.end());
        const std::size_t heard = in_band.size();
        in_band.resize(heard + samples.size());
        float* out_of_band = in_band.data() + heard;
        for (const float sample : samples) {
            const float x = band(sample);
            *out_of_band++ = x;
            hop_square += static_cast<double>(x) * static_cast<double>(x);
        }
        in_hop += samples.size();
        if (in_hop == hop)
            end_hop(out);
    }

    void end_hop(std::vector<Tap>& out) {
        const double mean_square = hop_square / static_cast<double>(hop);
        hop_square = 0;
        in_hop = 0;
        leap.add(mean_square);
        if (leap.is_sudden() &&
            leap.level_dbfs() > room.level_dbfs() + params.rise_db - k_weaker_db)
            on_leap(out);
        if (is_ringing && !is_refined && raw.size() >= rough + frames(k_refined_after_s))
            refine();
        piece_square += mean_square;
        if (++hops_in_piece == k_hops_piece) {
            on_piece(piece_square / k_hops_piece, out);
            piece_square = 0;
            hops_in_piece = 0;
        }
    }
};

Detector::Detector(double sample_rate_hz, const DetectorParams& params) {
    if (!(sample_rate_hz >= 8000 && sample_rate_hz <= 400000))
        throw std::invalid_argument("a detector needs a sample rate of 8 to 400 kHz");
    if (!(params.low_hz > 0 && params.low_hz < params.high_hz))
        throw std::invalid_argument("a detector's band needs 0 < low_hz < high_hz");
    state_ = std::make_unique<State>(sample_rate_hz, params);
}
Detector::~Detector() = default;
Detector::Detector(Detector&&) noexcept = default;
Detector& Detector::operator=(Detector&&) noexcept = default;

std::vector<Tap> Detector::push(std::span<const float> samples) {
    std::vector<Tap> out;
    while (!samples.empty()) {
        const auto piece = samples.first(std::min(samples.size(), state_->hop - state_->in_hop));
        state_->push(piece, out);
        samples = samples.subspan(piece.size());
    }
    return out;
}

std::vector<Tap> Detector::gap(std::int64_t lost_frames) {
    State& s = *state_;
    std::vector<Tap> out;
    if (s.is_ringing)
        s.end_tap(s.raw.size(), true, out);
    s.first_frame += static_cast<std::int64_t>(s.raw.size()) + lost_frames;
    s.raw.clear();
    s.in_band.clear();
    return out;
}

std::vector<Tap> Detector::finish() {
    std::vector<Tap> out;
    if (state_->is_ringing)
        state_->end_tap(state_->raw.size(), false, out);
    return out;
}

double Detector::ringing_s() const {
    const State& s = *state_;
    return s.is_ringing ? static_cast<double>(s.raw.size() - s.onset) / s.rate_hz : 0.0;
}

std::optional<Tap> Detector::ringing() const {
    const State& s = *state_;
    return s.is_ringing ? std::optional{s.judged(s.raw.size(), false)} : std::nullopt;
}

double Detector::noise_dbfs() const { return state_->room.level_dbfs(); }

} // namespace platewright::taps
