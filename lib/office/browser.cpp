#include "office/browser.hpp"

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>

extern char** environ;

namespace tarewell::office {

bool open_in_browser(const std::string& link) {
    std::string program{"xdg-open"}, argument{link};
    char* arguments[] = {program.data(), argument.data(), nullptr};
    posix_spawn_file_actions_t silent;
    posix_spawn_file_actions_init(&silent);
    for (const int stream : {0, 1, 2})
        posix_spawn_file_actions_addopen(&silent, stream, "/dev/null", O_RDWR, 0);
    pid_t child = 0;
    const bool started = posix_spawnp(&child, program.c_str(), &silent, nullptr, arguments, environ) == 0;
    posix_spawn_file_actions_destroy(&silent);
    if (!started) return false;
    (void)waitpid(child, nullptr, WNOHANG); // some browsers stay its child for as long as they are open
    return true;
}

} // namespace tarewell::office
