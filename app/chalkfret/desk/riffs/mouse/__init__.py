"""Mouse and touchpad on the Riffs page: every drag an object that ends in one edit or in none."""
