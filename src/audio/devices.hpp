#pragma once
#include <string>
#include <vector>

namespace platewright::audio {

/// An input as the sound system names it.
struct Device {
    std::string name; ///< "host API: device", the same from run to run; what is remembered
    int channels = 0;
    double default_rate_hz = 0;
    bool is_default = false;
    bool operator==(const Device&) const = default;
};

/// What the maker chose. An empty name is the system's default input; rate 0 the device's own.
struct InputChoice {
    std::string name;
    double sample_rate_hz = 0; ///< 44 100 to 192 000, or 0
    int channel = 0;           ///< counted from 0
    int force_channel = -1;    ///< the hammer's force, counted from 0; below it: none
    double force_newton = 0;   ///< at full scale of that channel; 0: not known
    bool operator==(const InputChoice&) const = default;
};

/// All inputs now present, looked for afresh: takes some 100 ms. Not while a Capture is open: the
/// sound library lists devices only when it starts up, and would give the old list.
std::vector<Device> list_inputs();

} // namespace platewright::audio
