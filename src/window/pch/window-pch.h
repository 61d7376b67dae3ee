/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Read once for the whole folder: GTK's headers are most of what the compiler would otherwise read again for every file. Every file
 * still includes what it uses, as a build with -Db_pch=false shows. */
#include <gtk/gtk.h>
