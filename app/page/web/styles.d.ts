// Style sheets are the bundler's business.
declare module '*.css';
