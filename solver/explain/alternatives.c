/* SPDX-License-Identifier: MIT */
#include "explain/explain.h"
