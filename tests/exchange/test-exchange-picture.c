/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "exchange-error.h"
#include "exchange-picture.h"
#include "exchange-watch.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct
{
  char *folder;
} Desk;

static void
desk_open (Desk *desk, gconstpointer unused)
{
  desk->folder = g_dir_make_tmp ("fettle-picture-XXXXXX", NULL);
  g_assert_nonnull (desk->folder);
}

static void
desk_close (Desk *desk, gconstpointer unused)
{
  g_autoptr(GDir) dir = g_dir_open (desk->folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (desk->folder, name, NULL);

      g_assert_cmpint (g_remove (path), ==, 0);
    }
  g_rmdir (desk->folder);
  g_free (desk->folder);
}

/* Left half dark, right half light, so that a turn can be seen. */
static GdkPixbuf *
halves (int width, int height, gboolean clear)
{
  GdkPixbuf *pixbuf = gdk_pixbuf_new (GDK_COLORSPACE_RGB, clear, 8, width, height);
  g_autoptr(GdkPixbuf) right = gdk_pixbuf_new_subpixbuf (pixbuf, width / 2, 0, width - width / 2, height);

  gdk_pixbuf_fill (pixbuf, 0x202020ff);
  gdk_pixbuf_fill (right, clear ? 0xf0f0f080 : 0xf0f0f0ff);
  return pixbuf;
}

static GBytes *
packed (int width, int height, const char *form)
{
  g_autoptr(GdkPixbuf) pixbuf = halves (width, height, FALSE);
  g_autoptr(GError) error = NULL;
  char *buffer;
  gsize length;

  gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &length, form, &error, NULL);
  g_assert_no_error (error);
  return g_bytes_new_take (buffer, length);
}

/* The same JPEG with an EXIF head that says how it was held (TIFF 6.0 tag 0x0112, from memory). */
static GBytes *
turned_jpeg (int width, int height, guint8 orientation)
{
  const guint8 exif[] = { 0xff, 0xe1, 0, 34, 'E', 'x', 'i', 'f', 0, 0, 'M', 'M', 0, 42, 0, 0, 0, 8, 0, 1,
                          0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, orientation, 0, 0, 0, 0, 0, 0 };
  g_autoptr(GBytes) plain = packed (width, height, "jpeg");
  GByteArray *all = g_byte_array_new ();
  gsize length;
  const guint8 *data = g_bytes_get_data (plain, &length);

  g_byte_array_append (all, data, 2);
  g_byte_array_append (all, exif, sizeof exif);
  g_byte_array_append (all, data + 2, (guint) length - 2);
  return g_byte_array_free_to_bytes (all);
}

static guint32
crc (const guint8 *data, gsize length)
{
  guint32 sum = 0xffffffff;

  for (gsize i = 0; i < length; i++)
    {
      sum ^= data[i];
      for (guint bit = 0; bit < 8; bit++)
        sum = sum & 1 ? sum >> 1 ^ 0xedb88320 : sum >> 1;
    }
  return ~sum;
}

/* A PNG's head alone (PNG specification, section 11.2.2). */
static GBytes *
png_head (guint32 width, guint32 height)
{
  guint8 head[] = { 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n', 0, 0, 0, 13, 'I', 'H', 'D', 'R',
                    0, 0, 0, 0, 0, 0, 0, 0, 8, 2, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 'I', 'D', 'A', 'T' };

  for (guint i = 0; i < 4; i++)
    {
      head[16 + i] = (guint8) (width >> (24 - 8 * i));
      head[20 + i] = (guint8) (height >> (24 - 8 * i));
    }
  for (guint i = 0; i < 4; i++)
    head[29 + i] = (guint8) (crc (head + 12, 17) >> (24 - 8 * i));
  return g_bytes_new (head, sizeof head);
}

static ExchangePicture *
take (GBytes *bytes, const char *name, ExchangeTake how)
{
  g_autoptr(GError) error = NULL;
  ExchangePicture *picture = exchange_picture_take_bytes (bytes, name, how, NULL, &error);

  g_assert_no_error (error);
  return picture;
}

static void
check_refused (GBytes *bytes, const char *name, ExchangeTake how, const char *sentence)
{
  g_autoptr(GError) error = NULL;

  g_assert_null (exchange_picture_take_bytes (bytes, name, how, NULL, &error));
  g_assert_cmpstr (error->message, ==, sentence);
  g_assert_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_CONTENT);
}

static void
test_large_pictures_are_made_smaller (Desk *desk, gconstpointer unused)
{
  g_autoptr(GBytes) png = packed (2400, 1200, "png");
  g_autoptr(ExchangePicture) picture = take (png, "photos/lock slip.PNG", EXCHANGE_TAKE_PICTURE);
  g_autoptr(GdkPixbuf) pixbuf = exchange_picture_decode (picture->bytes, picture->name, 4000, NULL, NULL);

  g_assert_true (picture->is_smaller);
  g_assert_cmpstr (picture->name, ==, "lock slip.jpg");
  g_assert_cmpstr (picture->mime_type, ==, "image/jpeg");
  g_assert_cmpint (picture->width, ==, 1600);
  g_assert_cmpint (picture->height, ==, 800);
  g_assert_cmpint (gdk_pixbuf_get_width (pixbuf), ==, 1600);
  g_assert_cmpint (gdk_pixbuf_get_height (pixbuf), ==, 800);
  g_assert_cmpint (gdk_pixbuf_get_pixels (pixbuf)[0], <, 0x40);
}

static void
test_small_and_original_pictures_stay_as_they_are (Desk *desk, gconstpointer unused)
{
  g_autoptr(GBytes) small = packed (640, 480, "jpeg");
  g_autoptr(GBytes) large = packed (2000, 1000, "jpeg");
  g_autoptr(ExchangePicture) kept = take (small, "a.jpg", EXCHANGE_TAKE_PICTURE);
  g_autoptr(ExchangePicture) original = take (large, "b.jpg", EXCHANGE_TAKE_ORIGINAL);

  g_assert_true (g_bytes_equal (kept->bytes, small));
  g_assert_cmpint (kept->width, ==, 640);
  g_assert_true (g_bytes_equal (original->bytes, large));
  g_assert_false (original->is_smaller);
  g_assert_cmpint (original->width, ==, 2000);
  g_assert_cmpint (original->height, ==, 1000);
  g_assert_cmpstr (original->mime_type, ==, "image/jpeg");
}

static void
test_pictures_stand_upright (Desk *desk, gconstpointer unused)
{
  g_autoptr(GBytes) turned = turned_jpeg (400, 200, 6); /* turn right to see it upright */
  g_autoptr(ExchangePicture) picture = take (turned, "a.jpg", EXCHANGE_TAKE_PICTURE);
  g_autoptr(ExchangePicture) original = take (turned, "a.jpg", EXCHANGE_TAKE_ORIGINAL);
  g_autoptr(GdkPixbuf) pixbuf = exchange_picture_decode (picture->bytes, "a.jpg", 1000, NULL, NULL);
  const guchar *dots = gdk_pixbuf_get_pixels (pixbuf);
  gsize length;
  const char *data = g_bytes_get_data (picture->bytes, &length);

  g_assert_cmpint (picture->width, ==, 200);
  g_assert_cmpint (picture->height, ==, 400);
  g_assert_cmpint (original->width, ==, 200);
  g_assert_cmpint (original->height, ==, 400);
  /* what was on the left is on top */
  g_assert_cmpint (dots[0], <, 0x40);
  g_assert_cmpint (dots[(gsize) gdk_pixbuf_get_rowstride (pixbuf) * 390], >, 0xd0);
  /* and what the camera noted is gone */
  g_assert_null (g_strstr_len (data, (gssize) MIN (length, 64), "Exif"));
}

static void
test_clear_pictures_stay_clear (Desk *desk, gconstpointer unused)
{
  g_autoptr(GdkPixbuf) pixbuf = halves (1800, 10, TRUE);
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(ExchangePicture) picture = NULL;
  char *buffer;
  gsize length;

  g_assert_true (gdk_pixbuf_save_to_buffer (pixbuf, &buffer, &length, "png", NULL, NULL));
  bytes = g_bytes_new_take (buffer, length);
  picture = take (bytes, "a.png", EXCHANGE_TAKE_PICTURE);
  g_assert_cmpstr (picture->mime_type, ==, "image/png");
  g_assert_cmpint (picture->width, ==, 1600);
}

static void
test_no_picture_is_refused_in_a_sentence (Desk *desk, gconstpointer unused)
{
  g_autoptr(GBytes) text = g_bytes_new_static ("no picture at all", 17);
  g_autoptr(GBytes) nothing = g_bytes_new_static ("", 0);
  g_autoptr(GBytes) whole = packed (300, 300, "jpeg");
  g_autoptr(GBytes) half = g_bytes_new_from_bytes (whole, 0, g_bytes_get_size (whole) - 200);
  g_autoptr(ExchangePicture) kept = NULL;

  check_refused (text, "../lock.jpg", EXCHANGE_TAKE_PICTURE, "'lock.jpg' is no picture: choose a photograph, such as a JPEG or PNG file.");
  check_refused (text, "lock.jpg", EXCHANGE_TAKE_ANY, "'lock.jpg' is no picture: choose a photograph, such as a JPEG or PNG file.");
  check_refused (nothing, "lock.png", EXCHANGE_TAKE_ORIGINAL, "'lock.png' is no picture: choose a photograph, such as a JPEG or PNG file.");
  check_refused (half, "half.jpg", EXCHANGE_TAKE_ANY, "The picture 'half.jpg' is damaged or not complete: take another copy of it.");
  kept = take (text, "notes.txt", EXCHANGE_TAKE_ANY);
  g_assert_true (g_bytes_equal (kept->bytes, text));
  g_assert_cmpint (kept->width, ==, 0);
}

/* Bytes turned and ends cut off: whatever comes, it is a picture within bounds or a sentence. */
static void
test_spoilt_pictures_are_taken_or_refused (Desk *desk, gconstpointer unused)
{
  static const char *const forms[] = { "jpeg", "png", "tiff", "bmp" };

  for (guint round = 0; round < 200; round++)
    {
      g_autoptr(GBytes) whole = packed (40, 30, forms[round % G_N_ELEMENTS (forms)]);
      g_autoptr(ExchangePicture) picture = NULL;
      g_autoptr(GBytes) spoilt = NULL;
      g_autoptr(GError) error = NULL;
      gsize length;
      guint8 *copy = g_memdup2 (g_bytes_get_data (whole, &length), g_bytes_get_size (whole));

      for (int turned = g_test_rand_int_range (0, 4); turned > 0; turned--)
        copy[g_test_rand_int_range (0, (gint32) length)] = (guint8) g_test_rand_int_range (0, 256);
      spoilt = g_bytes_new_take (copy, round % 3 == 0 ? (gsize) g_test_rand_int_range (1, (gint32) length) : length);
      picture = exchange_picture_take_bytes (spoilt, "spoilt.jpg", EXCHANGE_TAKE_PICTURE, NULL, &error);
      if (picture != NULL)
        g_assert_cmpint (MAX (picture->width, picture->height), <=, EXCHANGE_PICTURE_SIDE);
      else
        g_assert_true (strstr (error->message, "'spoilt.jpg'") != NULL && g_str_has_suffix (error->message, "."));
    }
}

static void
test_huge_pictures_are_refused_by_their_head (Desk *desk, gconstpointer unused)
{
  g_autoptr(GBytes) huge = png_head (100000, 100000);
  g_autoptr(GBytes) large = png_head (20000, 20000); /* 1.6 GB unpacked */
  struct rusage before, after;
  g_autoptr(GError) error = NULL;

  getrusage (RUSAGE_SELF, &before);
  check_refused (huge, "huge.png", EXCHANGE_TAKE_PICTURE,
                 "'huge.png' is a picture of 100000 by 100000 dots, and more than 100 million cannot be taken in: make it smaller.");
  check_refused (large, "large.png", EXCHANGE_TAKE_ORIGINAL,
                 "'large.png' is a picture of 20000 by 20000 dots, and more than 100 million cannot be taken in: make it smaller.");
  check_refused (large, "large.png", EXCHANGE_TAKE_ANY,
                 "'large.png' is a picture of 20000 by 20000 dots, and more than 100 million cannot be taken in: make it smaller.");
  g_assert_null (exchange_picture_decode (huge, "huge.png", 100, NULL, &error));
  g_assert_nonnull (error);
  getrusage (RUSAGE_SELF, &after);
  g_assert_cmpint (after.ru_maxrss - before.ru_maxrss, <, 65536); /* KiB */
}

static void
test_huge_files_are_refused_unread (Desk *desk, gconstpointer unused)
{
  g_autofree char *path = g_build_filename (desk->folder, "huge.jpg", NULL);
  g_autoptr(GFile) file = g_file_new_for_path (path);
  g_autoptr(GFile) absent = g_file_get_child (file, "none");
  g_autoptr(GFile) folder = g_file_new_for_path (desk->folder);
  g_autofree char *base = g_file_get_basename (folder);
  g_autofree char *no_file = g_strdup_printf ("'%s' is no file: choose a file.", base);
  g_autoptr(GError) error = NULL;
  int descriptor = g_open (path, O_WRONLY | O_CREAT, 0600);

  g_assert_cmpint (ftruncate (descriptor, 200 * 1024 * 1024), ==, 0); /* a hole: takes no room on the disk */
  close (descriptor);
  g_assert_null (exchange_picture_take_file (file, EXCHANGE_TAKE_PICTURE, NULL, &error));
  g_assert_cmpstr (error->message, ==, "'huge.jpg' is larger than 32 MiB: make it smaller, or attach a link to it.");
  g_clear_error (&error);
  g_assert_null (exchange_picture_take_file (absent, EXCHANGE_TAKE_PICTURE, NULL, &error));
  g_assert_error (error, EXCHANGE_ERROR, EXCHANGE_ERROR_UNREADABLE);
  g_clear_error (&error);
  g_assert_null (exchange_picture_take_file (folder, EXCHANGE_TAKE_ANY, NULL, &error));
  g_assert_cmpstr (error->message, ==, no_file);
}

static void
on_taken (GObject *source, GAsyncResult *result, gpointer data)
{
  *(GAsyncResult **) data = g_object_ref (result);
}

static void
test_taking_in_is_done_beside_and_can_be_stopped (Desk *desk, gconstpointer unused)
{
  g_autofree char *path = g_build_filename (desk->folder, "a.jpg", NULL);
  g_autoptr(GFile) file = g_file_new_for_path (path);
  g_autoptr(GBytes) bytes = packed (1700, 100, "jpeg");
  g_autoptr(GCancellable) stop = g_cancellable_new ();
  g_autoptr(GAsyncResult) first = NULL;
  g_autoptr(GAsyncResult) second = NULL;
  g_autoptr(ExchangePicture) picture = NULL;
  g_autoptr(GError) error = NULL;

  g_assert_true (g_file_set_contents (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes), NULL));
  exchange_picture_take_file_async (file, EXCHANGE_TAKE_PICTURE, NULL, on_taken, &first);
  g_cancellable_cancel (stop);
  exchange_picture_take_bytes_async (bytes, "b.jpg", EXCHANGE_TAKE_PICTURE, stop, on_taken, &second);
  while (first == NULL || second == NULL)
    g_main_context_iteration (NULL, TRUE);
  picture = exchange_picture_take_finish (first, &error);
  g_assert_no_error (error);
  g_assert_cmpint (picture->width, ==, 1600);
  g_assert_null (exchange_picture_take_finish (second, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
put (Desk *desk, const char *name, const char *text, gint64 seconds)
{
  g_autofree char *path = g_build_filename (desk->folder, name, NULL);
  struct timespec times[2] = { { .tv_sec = seconds }, { .tv_sec = seconds } };

  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  g_assert_cmpint (utimensat (AT_FDCWD, path, times, 0), ==, 0);
}

static char *
names_of (GPtrArray *list)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < list->len; i++)
    g_string_append_printf (names, "%s ", ((ExchangeFound *) list->pdata[i])->name);
  return g_string_free (names, FALSE);
}

static void
put_photographs (Desk *desk)
{
  put (desk, "IMG_0001.jpg", "x", 1000);
  put (desk, "IMG_0003.JPG", "x", 3000);
  put (desk, "IMG_0002.png", "x", 3000);
  put (desk, "notes.txt", "x", 4000);
  put (desk, ".hidden.jpg", "x", 4000);
  put (desk, "empty.jpg", "", 4000);
}

static void
test_pictures_of_a_folder_are_listed_newest_first (Desk *desk, gconstpointer unused)
{
  g_autoptr(GFile) folder = g_file_new_for_path (desk->folder);
  g_autoptr(GFile) gone = g_file_get_child (folder, "gone");
  g_autoptr(GPtrArray) all = NULL;
  g_autoptr(GPtrArray) one = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *names = NULL;
  g_autofree char *newest = NULL;

  put_photographs (desk);
  all = exchange_pictures_list (folder, 0, NULL, &error);
  g_assert_no_error (error);
  names = names_of (all);
  g_assert_cmpstr (names, ==, "IMG_0003.JPG IMG_0002.png IMG_0001.jpg ");
  g_assert_cmpstr (((ExchangeFound *) all->pdata[0])->mime_type, ==, "image/jpeg");
  one = exchange_pictures_list (folder, 1, NULL, &error);
  newest = names_of (one);
  g_assert_cmpstr (newest, ==, "IMG_0003.JPG ");
  g_assert_null (exchange_pictures_list (gone, 0, NULL, &error));
  g_assert_true (g_str_has_prefix (error->message, "The folder '"));
}

static void
on_changed (GPtrArray *found, const GError *error, gpointer data)
{
  GString *told = data;
  g_autofree char *names = NULL;

  g_assert_no_error (error);
  names = names_of (found);
  g_string_append_printf (told, "[%s]", names);
}

static void
test_a_watched_folder_tells_of_new_pictures (Desk *desk, gconstpointer unused)
{
  g_autoptr(GFile) folder = g_file_new_for_path (desk->folder);
  g_autoptr(GString) told = g_string_new (NULL);
  ExchangeWatch *watch;

  put (desk, "a.jpg", "x", 1000);
  watch = exchange_watch_new (folder, 2, on_changed, told);
  while (told->len == 0)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpstr (told->str, ==, "[a.jpg ]");
  put (desk, "b.jpg", "x", 2000);
  while (strstr (told->str, "b.jpg") == NULL)
    g_main_context_iteration (NULL, TRUE);
  g_assert_nonnull (strstr (told->str, "[b.jpg a.jpg ]"));
  put (desk, "c.jpg", "x", 3000);
  exchange_watch_free (watch); /* with a look on its way: nothing is told any more */
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, func) g_test_add ("/exchange/picture/" path, Desk, NULL, desk_open, func, desk_close)
  ADD ("large-pictures-are-made-smaller", test_large_pictures_are_made_smaller);
  ADD ("small-and-original-pictures-stay-as-they-are", test_small_and_original_pictures_stay_as_they_are);
  ADD ("pictures-stand-upright", test_pictures_stand_upright);
  ADD ("clear-pictures-stay-clear", test_clear_pictures_stay_clear);
  ADD ("no-picture-is-refused-in-a-sentence", test_no_picture_is_refused_in_a_sentence);
  ADD ("spoilt-pictures-are-taken-or-refused", test_spoilt_pictures_are_taken_or_refused);
  ADD ("huge-pictures-are-refused-by-their-head", test_huge_pictures_are_refused_by_their_head);
  ADD ("huge-files-are-refused-unread", test_huge_files_are_refused_unread);
  ADD ("taking-in-is-done-beside-and-can-be-stopped", test_taking_in_is_done_beside_and_can_be_stopped);
  ADD ("pictures-of-a-folder-are-listed-newest-first", test_pictures_of_a_folder_are_listed_newest_first);
  ADD ("a-watched-folder-tells-of-new-pictures", test_a_watched_folder_tells_of_new_pictures);
  return g_test_run ();
}
