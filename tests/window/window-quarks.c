/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* dl_iterate_phdr() */
#include "config.h"

#include "window-quarks.h"

#if defined (__SANITIZE_ADDRESS__)
#define HAS_LEAK_CHECK 1
#elif defined (__has_feature)
#if __has_feature (address_sanitizer)
#define HAS_LEAK_CHECK 1
#endif
#endif

#ifdef HAS_LEAK_CHECK

#include <link.h>
#include <sanitizer/lsan_interface.h>
#include <string.h>

/* GCC of Debian comes without the header that declares these two. */
int __sanitizer_get_ownership (const volatile void *pointer);
size_t __sanitizer_get_allocated_size (const volatile void *pointer);

#define TABLE_LEAST 16384 /* bytes; the first one has room for 2048 names */

/* Whether @pointer is a block that begins as a table of quarks does. */
static gboolean
is_table (const char *const *pointer)
{
  return pointer != NULL && __sanitizer_get_ownership (pointer) != 0 && __sanitizer_get_allocated_size (pointer) >= TABLE_LEAST
         && pointer[1] == g_quark_to_string (1) && pointer[2] == g_quark_to_string (2);
}

/* Looks through what GLib can write to of its own. */
static int
look_through (struct dl_phdr_info *info, size_t size, void *data)
{
  if (strstr (info->dlpi_name, "libglib-2.0") == NULL)
    return 0;
  for (int i = 0; i < info->dlpi_phnum; i++)
    {
      const ElfW (Phdr) *part = &info->dlpi_phdr[i];
      const char *const **words = (const char *const **) (info->dlpi_addr + part->p_vaddr);

      if (part->p_type != PT_LOAD || (part->p_flags & PF_W) == 0)
        continue;
      for (gsize k = 0; k < part->p_memsz / sizeof *words; k++)
        if (is_table (words[k]))
          {
            __lsan_ignore_object (words[k]);
            return 1;
          }
    }
  return 0;
}

void
window_quarks_forgive (void)
{
  dl_iterate_phdr (look_through, NULL);
}

#else

void
window_quarks_forgive (void)
{
}

#endif
