#include "screen/window.hpp"

#include "screen/desk.hpp"
#include "screen/native_window.hpp"
#include "screen/settings/preferences_file.hpp"
#include "screen/settings/status_line.hpp"

#include <GLFW/glfw3.h>
#include <imgui.h>
#include <imgui_impl_glfw.h>
#include <imgui_impl_opengl3.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <malloc.h>

namespace platewright::screen {
namespace {

// After something happened Dear ImGui needs a few pictures until hovering and focus have settled.
constexpr int k_owed_pictures = 3;
constexpr double k_longest_wait_s = 60.0;
constexpr double k_writing_mark_s = 0.5; // while a field is written in, its mark blinks

/// Whether the meter is worth a picture: not while only the room breathes, which goes a step up and
/// down all the time.
bool meter_moved(const bench::InputStatus& a, const bench::InputStatus& b) {
    constexpr double room_db = 24.0; // a peak of the room's own noise stays below that
    constexpr int breath = 2;        // steps
    const int steps = std::abs(meter_steps(a.level_dbfs) - meter_steps(b.level_dbfs));
    const bool room =
        a.level_dbfs < b.noise_dbfs + room_db && b.level_dbfs < b.noise_dbfs + room_db;
    return room ? steps > breath : steps > 0;
}

std::int64_t newest_notice(const bench::Snapshot& now) {
    return now.notices.empty() ? 0 : now.notices.back().number;
}

/// Whether another picture is owed: level and noise alone only when the meter would look different.
bool looks_different(const bench::Snapshot& before, const bench::Snapshot& now) {
    const bench::InputStatus& a = before.input;
    const bench::InputStatus& b = now.input;
    const bool same_ear = a.state == b.state && a.overruns == b.overruns &&
                          a.clipped == b.clipped && a.silent == b.silent && a.faults == b.faults &&
                          a.trouble == b.trouble && a.name == b.name && !meter_moved(a, b);
    const bool same_rest =
        before.plate == now.plate && before.work == now.work && before.stock == now.stock &&
        before.errand == now.errand && before.binned == now.binned &&
        before.copies.size() == now.copies.size() && before.undoable == now.undoable &&
        before.in_air == now.in_air && before.instruments == now.instruments &&
        before.striking_at == now.striking_at && before.good_taps_here == now.good_taps_here &&
        before.playing == now.playing && before.taps_to_put_back == now.taps_to_put_back &&
        before.study == now.study && before.hearing_room == now.hearing_room &&
        before.recorded == now.recorded && before.room.has_value() == now.room.has_value() &&
        before.chosen == now.chosen && before.chosen_band == now.chosen_band &&
        before.band == now.band && before.inputs == now.inputs &&
        newest_notice(before) == newest_notice(now) &&
        before.references.size() == now.references.size() &&
        before.tap.has_value() == now.tap.has_value() &&
        (!now.tap ||
         (before.tap->record.onset_frame == now.tap->record.onset_frame &&
          before.tap->record.id == now.tap->record.id && before.tap->fate == now.tap->fate));
    return !(same_ear && same_rest);
}

/// Letters and colours for the window as large as it is now and as the maker preferences it. True
/// when the letters were cut anew.
bool keep_look(Look& look, const Preferences& preferences, double density) {
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    const double scale = scale_for(static_cast<double>(size.x), static_cast<double>(size.y),
                                   preferences.text_size, density);
    const bool anew = look.fonts.regular.empty() || scale != look.scale;
    if (anew) {
        look.scale = scale;
        look.fonts = cut_fonts(scale);
    }
    look.palette = preferences.dark ? &plot::dark_palette() : &plot::light_palette();
    dress(look);
    return anew;
}

/// Look::fill: clearing a part of the picture costs software GL a fraction of what its triangles
/// do.
void fill_clipped(const ImDrawList*, const ImDrawCmd* command) {
    const ImDrawData& data = *ImGui::GetDrawData();
    const auto across = [&](float x) {
        return std::lround((x - data.DisplayPos.x) * data.FramebufferScale.x);
    };
    const auto down = [&](float y) {
        return std::lround((y - data.DisplayPos.y) * data.FramebufferScale.y);
    };
    const ImVec4& clip = command->ClipRect;
    const long left = across(clip.x), right = across(clip.z), top = down(clip.y),
               bottom = down(clip.w);
    if (right <= left || bottom <= top) {
        return;
    }
    const long height = std::lround(data.DisplaySize.y * data.FramebufferScale.y);
    glScissor(static_cast<GLint>(left), static_cast<GLint>(height - bottom),
              static_cast<GLsizei>(right - left), static_cast<GLsizei>(bottom - top));
    const ImVec4 colour = ImGui::ColorConvertU32ToFloat4(
        static_cast<ImU32>(reinterpret_cast<std::uintptr_t>(command->UserCallbackData)));
    glClearColor(colour.x, colour.y, colour.z, 1.0F);
    glClear(GL_COLOR_BUFFER_BIT);
}

void clear_to(plot::Colour colour) {
    const auto share = [](std::uint8_t channel) { return static_cast<float>(channel) / 255.0F; };
    glClearColor(share(colour.red), share(colour.green), share(colour.blue), 1.0F);
}

/// Page Up and the like scroll a view, or are a foot switch: Dear ImGui would move the focus by
/// them as well, and leaves them alone when it does not know that they are down. In a field they
/// move the writing mark.
void keep_page_keys() {
    ImGuiIO& io = ImGui::GetIO();
    if (io.WantTextInput) {
        return;
    }
    for (const ImGuiKey key : {ImGuiKey_PageUp, ImGuiKey_PageDown, ImGuiKey_Home, ImGuiKey_End}) {
#if IMGUI_VERSION_NUM >= 18700
        io.AddKeyEvent(key, false);
#else
        io.KeysDown[io.KeyMap[key]] = false;
#endif
    }
}

/// Before 1.87 Dear ImGui does not see a key that was pressed and let go between two pictures, as a
/// foot switch or a quick finger does: it is down for this one. Gives those that are up again.
std::vector<int> hold_pressed(std::vector<int>& pressed) {
    std::vector<int> up;
#if IMGUI_VERSION_NUM < 18700
    auto& down = ImGui::GetIO().KeysDown;
    for (const int code : pressed) {
        if (code >= 0 && code < IM_ARRAYSIZE(down) && !down[code]) {
            down[code] = true;
            up.push_back(code);
        }
    }
#endif
    pressed.clear();
    return up;
}

void let_go([[maybe_unused]] const std::vector<int>& up) {
#if IMGUI_VERSION_NUM < 18700
    for (const int code : up) {
        ImGui::GetIO().KeysDown[code] = false;
    }
#endif
}

int draw_picture(NativeWindow& window, Desk& desk, Look& look, const bench::Snapshot& now,
                 Happenings& happenings) {
    NativeWindow::begin_picture(happenings);
    const bool first = look.fonts.regular.empty();
    float across = 1.0F, down = 1.0F;
    glfwGetWindowContentScale(window.get(), &across, &down);
    if (keep_look(look, desk.preferences(), static_cast<double>(std::max(across, down))) &&
        !first) {
        ImGui_ImplOpenGL3_DestroyFontsTexture();
        ImGui_ImplOpenGL3_CreateFontsTexture();
    }
    if (happenings.keys.take(Key::f11)) {
        window.toggle_whole_screen();
    }
    const std::vector<int> up = hold_pressed(happenings.pressed);
    keep_page_keys();
    ImGui_ImplOpenGL3_NewFrame(); // on the first picture it takes the letters over itself
    ImGui::NewFrame();
    let_go(up);
    const int owed = desk.draw(now, look, happenings.keys);
    ImGui::Render();
    int width = 0;
    int height = 0;
    glfwGetFramebufferSize(window.get(), &width, &height);
    glViewport(0, 0, width, height);
    clear_to(look.palette->ground); // cheaper than a box as large as the window
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
    glfwSwapBuffers(window.get());
    return owed;
}

/// Software GL takes and gives back some megabytes with every picture; glibc would return them to
/// the system each time, and fetching them again costs a fifth of the picture.
void keep_memory_between_pictures() {
#ifdef M_TRIM_THRESHOLD
    constexpr int k_kept_bytes = 32 << 20; // the most that glibc takes
    mallopt(M_TRIM_THRESHOLD, k_kept_bytes);
    mallopt(M_MMAP_THRESHOLD, k_kept_bytes);
#endif
}

/// As soon as something is wished: a program that is ended by a signal takes no wish along.
void keep_preferences(const Preferences& wished, Preferences& kept) {
    if (wished != kept) {
        kept = wished;
        write_preferences(kept);
    }
}

} // namespace

int run_window(const Bench& bench) {
    keep_memory_between_pictures();
    Happenings happenings;
    Preferences kept = read_preferences();
    NativeWindow window(happenings, kept.window);
    Desk desk(bench.send, bench.outside);
    desk.wish(kept);
    desk.start(bench.walk);
    Look look;
    look.fill = fill_clipped;
    std::shared_ptr<const bench::Snapshot> shown;
    int owed = k_owed_pictures;
    while (glfwWindowShouldClose(window.get()) == GLFW_FALSE) {
        if (owed > 0) {
            glfwPollEvents();
        } else if (ImGui::GetIO().WantTextInput) {
            glfwWaitEventsTimeout(k_writing_mark_s);
            owed = 1;
        } else if (desk.wake_in_s() < k_longest_wait_s) {
            glfwWaitEventsTimeout(desk.wake_in_s());
            owed = 1;
        } else {
            glfwWaitEvents();
        }
        const auto now = bench.snapshot();
        if (happenings.any) {
            owed = k_owed_pictures;
            happenings.any = false;
        } else if (!shown || looks_different(*shown, *now)) {
            owed = std::max(owed, 1);
        }
        if (owed == 0) {
            continue;
        }
        const int wanted = draw_picture(window, desk, look, *now, happenings);
        happenings.waiting.drawn(wanted, ImGui::GetIO().WantTextInput);
        keep_preferences(desk.preferences(), kept);
        shown = now;
        owed = std::max({owed - 1, wanted, happenings.waiting.empty() ? 0 : 1});
    }
    Preferences after = desk.preferences();
    after.window = window.place(after.window);
    keep_preferences(after, kept);
    return 0;
}

} // namespace platewright::screen
