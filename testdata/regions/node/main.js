'use strict';

const { serve } = require('./serve');
const brackwater = require('./brackwater');

serve(brackwater);
